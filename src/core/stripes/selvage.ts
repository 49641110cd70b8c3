import { linearFromByte } from '../colour/srgb.js';
import { middleOf } from '../math/select.js';
import type { StraightCloth } from '../rectify/straight-cloth.js';
import type { Segment } from './segment.js';

/** A selvage that the stripes run into. */
export interface MetSelvage {
  /** Where stripes end on it, one a column asked: places of the straight picture, px, corner origin. */
  readonly ends: readonly { readonly column: number; readonly row: number }[];
  /** Width of the selvage itself, mm. */
  readonly widthMm: number;
}

/** Columns asked. */
const COLUMNS = 240;
/** Of the columns that end before the photo does, so many must end on one line ... */
const ON_LINE = 0.45;
/** ... over at least this length, within this of it, and no further from square to the stripes than this. */
const LEAST_SPAN_MM = 80;
const NEAR_MM = 1;
const STEEPEST = 0.12;
/** A selvage is no narrower and no wider; a ruler is wider. */
const NARROWEST_MM = 2.5;
const WIDEST_MM = 20;
/** Other things than cloth must show beyond it over this. */
const LEAST_BEYOND_MM = 4;

/**
 * The selvage at either end of the stripes: a straight line on which they end, beyond it a strip of one colour, and beyond that
 * something else. Null where there is none, or none that shows: a cut edge has no strip, and some selvages carry the stripes on.
 *
 * @param segments bands in view
 */
export function metSelvage(cloth: StraightCloth, segments: readonly Segment[]): MetSelvage | null {
  const columns = columnsInside(segments);
  if (columns.length < COLUMNS / 4) return null;
  for (const way of [-1, 1] as const) {
    const found = selvageAt(cloth, columns, way);
    if (found) return found;
  }
  return null;
}

interface BandColumn {
  readonly column: number;
  /** Of its band, linear light. */
  readonly linear: Segment['linear'];
}

/** Columns well inside the bands, spread evenly. */
function columnsInside(segments: readonly Segment[]): BandColumn[] {
  const inside = segments.flatMap(({ from, to, linear }) => {
    const list: BandColumn[] = [];
    for (let column = Math.ceil(from + 2); column + 1 < to - 2; column++) list.push({ column, linear });
    return list;
  });
  const step = Math.max(1, inside.length / COLUMNS);
  return Array.from({ length: Math.floor(inside.length / step) }, (_, k) => inside[Math.floor(k * step)]);
}

interface ColumnEnd {
  readonly column: number;
  readonly row: number;
}

function selvageAt(cloth: StraightCloth, columns: readonly BandColumn[], way: -1 | 1): MetSelvage | null {
  const endsOf = (list: readonly BandColumn[]): ColumnEnd[] =>
    list.flatMap((one) => {
      const row = endOfStripe(cloth, one, way);
      return row === null ? [] : [{ column: one.column, row }];
    });
  // On most photos no stripe ends: a few columns tell.
  const few = columns.filter((_, k) => k % 6 === 0);
  if (endsOf(few).length < few.length / 6) return null;
  const ends = endsOf(columns);
  if (ends.length < columns.length / 6) return null;
  const { mmPerColumn, mmPerRow } = cloth;
  const line = commonLine(ends, mmPerColumn, mmPerRow);
  if (line === null || line.on.length < ON_LINE * ends.length) return null;
  const span = (line.on[line.on.length - 1].column - line.on[0].column) * mmPerColumn;
  if (span < LEAST_SPAN_MM) return null;
  const widthMm = stripWidthMm(cloth, line.on, way);
  if (widthMm === null) return null;
  const exact = line.on.flatMap((end) => exactEnd(cloth, end, way, widthMm));
  return exact.length < line.on.length / 2 ? null : { ends: exact, widthMm };
}

/** Share by which a column's colour follows the light from row to row. */
const FOLLOW = 0.1;

/**
 * Row from which a column no longer shows its own colour, followed from where it shows it best; null where it does to the end. The
 * place is where most pixels up to it match and fewest beyond: a motif or a ruler on the way does not end a stripe. The colour
 * follows the light on the way; the light field would not do, since near a border a table has its share in it.
 */
function endOfStripe(cloth: StraightCloth, { column, linear }: BandColumn, way: -1 | 1): number | null {
  const { height } = cloth.picture;
  const start = likestPlace(cloth, column, linear);
  if (start === null) return null;
  const { own } = start;
  const pixel = new Float64Array(3);
  let sum = 0;
  let best = 0;
  let at = start.row;
  let beyond = 0;
  for (let y = start.row; y >= 0 && y < height; y += way) {
    if (!linearPixel(cloth, column, y, pixel)) continue;
    const off = Math.abs(pixel[0] - own[0]) + Math.abs(pixel[1] - own[1]) + Math.abs(pixel[2] - own[2]);
    const matches = off < 0.25 * (own[0] + own[1] + own[2] + 0.004) + 0.01;
    sum += matches ? 1 : -1;
    beyond++;
    if (matches) for (let c = 0; c < 3; c++) own[c] += FOLLOW * (pixel[c] - own[c]);
    if (sum >= best) {
      best = sum;
      at = y;
      beyond = 0;
    }
  }
  if (best < 8 || beyond * cloth.mmPerRow < NARROWEST_MM + LEAST_BEYOND_MM) return null;
  return way < 0 ? at : at + 1;
}

/** Of five places down a column the one whose colour is most like the band's, its hue more than its brightness: that is light. */
function likestPlace(
  cloth: StraightCloth,
  column: number,
  linear: Segment['linear'],
): { row: number; own: Float64Array } | null {
  let likest: { row: number; own: Float64Array } | null = null;
  let least = Infinity;
  const level = linear[0] + linear[1] + linear[2] + 0.003;
  for (let k = 1; k <= 5; k++) {
    const row = Math.round((cloth.picture.height * k) / 6);
    const own = colourAround(cloth, column, row);
    if (own === null) continue;
    const ownLevel = own[0] + own[1] + own[2] + 0.003;
    let off = 0.2 * Math.abs(Math.log(ownLevel / level));
    for (let c = 0; c < 3; c++) off += Math.abs(own[c] / ownLevel - linear[c] / level);
    if (off >= least) continue;
    least = off;
    likest = { row, own };
  }
  return likest;
}

/** Median colour of an eighth of the column about a row, linear light; null where too little of it is cloth. */
function colourAround(cloth: StraightCloth, column: number, middle: number): Float64Array | null {
  const reach = cloth.picture.height >> 4;
  const lists = [0, 1, 2].map(() => new Float64Array(2 * reach));
  let n = 0;
  const pixel = new Float64Array(3);
  for (let y = middle - reach; y < middle + reach; y++) {
    if (!linearPixel(cloth, column, y, pixel)) continue;
    for (let c = 0; c < 3; c++) lists[c][n] = pixel[c];
    n++;
  }
  return n < 10 ? null : Float64Array.from(lists, (list) => middleOf(list, n));
}

function linearPixel(
  { picture: { width, data }, cloth }: StraightCloth,
  column: number,
  row: number,
  out: Float64Array,
): boolean {
  const i = row * width + column;
  if (!cloth[i]) return false;
  for (let c = 0; c < 3; c++) out[c] = linearFromByte[data[3 * i + c]];
  return true;
}

/** The line across the stripes on which most columns end: a vote over slope and place, then least squares of those near it. */
function commonLine(
  ends: readonly ColumnEnd[],
  mmPerColumn: number,
  mmPerRow: number,
): { on: ColumnEnd[] } | null {
  const x = ends.map(({ column }) => (column + 0.5) * mmPerColumn);
  const y = ends.map(({ row }) => row * mmPerRow);
  let most = 0;
  let slope = 0;
  let place = 0;
  for (let s = -STEEPEST; s <= STEEPEST; s += 0.004) {
    const votes = new Map<number, number>();
    for (let k = 0; k < ends.length; k++) {
      const bin = Math.round((y[k] - s * x[k]) / NEAR_MM);
      for (const near of [bin - 1, bin, bin + 1]) votes.set(near, (votes.get(near) ?? 0) + 1);
    }
    for (const [bin, count] of votes) {
      if (count <= most) continue;
      most = count;
      slope = s;
      place = bin * NEAR_MM;
    }
  }
  let on: number[] = [];
  for (let round = 0; round < 4; round++) {
    const reach = round === 0 ? 2 * NEAR_MM : NEAR_MM;
    on = ends.map((_, k) => k).filter((k) => Math.abs(y[k] - slope * x[k] - place) <= reach);
    if (on.length < 3) return null;
    const mx = on.reduce((sum, k) => sum + x[k], 0) / on.length;
    const my = on.reduce((sum, k) => sum + y[k], 0) / on.length;
    const xx = on.reduce((sum, k) => sum + (x[k] - mx) ** 2, 0);
    if (xx === 0) return null;
    slope = on.reduce((sum, k) => sum + (x[k] - mx) * (y[k] - my), 0) / xx;
    place = my - slope * mx;
  }
  return Math.abs(slope) > STEEPEST ? null : { on: on.map((k) => ends[k]) };
}

/** Rows to either side that are blurred or ragged. */
const RAGGED = 2;

/** The end to a part of a row: how much of the rows about it shows the stripe, the rest the selvage. None where the two look alike. */
function exactEnd(
  cloth: StraightCloth,
  { column, row }: ColumnEnd,
  way: -1 | 1,
  widthMm: number,
): ColumnEnd[] {
  // Counted from the end outwards.
  const rowAt = (d: number): number => (way < 0 ? row - 1 - d : row + d);
  const far = Math.max(RAGGED + 1, Math.min(RAGGED + 3, Math.floor(widthMm / cloth.mmPerRow) - 1));
  const stripe = meanOfRows(cloth, column, rowAt, -RAGGED - 4, -RAGGED);
  const selvage = meanOfRows(cloth, column, rowAt, RAGGED, far);
  if (stripe === null || selvage === null || !unlike(stripe, selvage)) return [];
  const axis = selvage.map((v, c) => v - stripe[c]);
  const size = axis[0] ** 2 + axis[1] ** 2 + axis[2] ** 2;
  const pixel = new Float64Array(3);
  let shown = 0;
  for (let d = -RAGGED; d < RAGGED; d++) {
    const y = rowAt(d);
    if (y < 0 || y >= cloth.picture.height || !linearPixel(cloth, column, y, pixel)) return [];
    let part = 0;
    for (let c = 0; c < 3; c++) part += (pixel[c] - stripe[c]) * axis[c];
    shown += 1 - Math.max(0, Math.min(1, part / size));
  }
  const beyond = shown - RAGGED;
  return [{ column, row: way < 0 ? row - beyond : row + beyond }];
}

function meanOfRows(
  cloth: StraightCloth,
  column: number,
  rowAt: (d: number) => number,
  from: number,
  to: number,
): Float64Array | null {
  const mean = new Float64Array(3);
  const pixel = new Float64Array(3);
  for (let d = from; d < to; d++) {
    const y = rowAt(d);
    if (y < 0 || y >= cloth.picture.height || !linearPixel(cloth, column, y, pixel)) return null;
    for (let c = 0; c < 3; c++) mean[c] += pixel[c] / (to - from);
  }
  return mean;
}

/** Parts of the line that are looked at apart, since light changes along it. */
const PARTS = 4;

/** Width of the strip of one colour beyond the stripes' ends, where something else follows it; else null. */
function stripWidthMm(cloth: StraightCloth, ends: readonly ColumnEnd[], way: -1 | 1): number | null {
  const rows = Math.ceil((WIDEST_MM + LEAST_BEYOND_MM) / cloth.mmPerRow) + 1;
  // The first row or two are the blur of the stripes' ends.
  const first = Math.max(1, Math.round(1.2 / cloth.mmPerRow)) + 1;
  const across = Array.from({ length: rows }, (_, d) => alongLine(cloth, ends, way, d));
  const strip = across[first];
  if (!strip) return null;
  // Stripes running on, or a table's boards, are not of one colour along the line.
  const level = strip.colour[0] + strip.colour[1] + strip.colour[2];
  if (strip.scatter > 0.12 * level + 0.01) return null;
  for (let d = first + 1; d + 1 < rows; d++) {
    const here = across[d];
    const next = across[d + 1];
    if (!here || !next) return null;
    if (!unlike(here.colour, strip.colour) || !unlike(next.colour, strip.colour)) continue;
    const widthMm = d * cloth.mmPerRow;
    const beyond = across[Math.min(rows - 1, d + Math.ceil(LEAST_BEYOND_MM / cloth.mmPerRow))];
    return widthMm >= NARROWEST_MM && widthMm <= WIDEST_MM && beyond ? widthMm : null;
  }
  return null;
}

/** Colour d rows beyond the ends, linear light, and how far the columns of a part of the line differ in it; null where too little is seen. */
function alongLine(
  cloth: StraightCloth,
  ends: readonly ColumnEnd[],
  way: -1 | 1,
  d: number,
): { colour: Float64Array; scatter: number } | null {
  const { height } = cloth.picture;
  const lists = [0, 1, 2].map(() => new Float64Array(ends.length));
  const pixel = new Float64Array(3);
  let n = 0;
  for (const { column, row } of ends) {
    const y = way < 0 ? row - 1 - d : row + d;
    if (y < 0 || y >= height || !linearPixel(cloth, column, y, pixel)) continue;
    for (let c = 0; c < 3; c++) lists[c][n] = pixel[c];
    n++;
  }
  if (n < ends.length / 2) return null;
  const middles = (from: number, to: number): Float64Array =>
    Float64Array.from(lists, (list) => middleOf(list.slice(from, to), to - from));
  const scatters = Float64Array.from({ length: PARTS }, (_, part) => {
    const from = Math.floor((n * part) / PARTS);
    const to = Math.floor((n * (part + 1)) / PARTS);
    const own = middles(from, to);
    const apart = Float64Array.from({ length: to - from }, (_, k) =>
      lists.reduce((sum, list, c) => sum + Math.abs(list[from + k] - own[c]), 0),
    );
    return middleOf(apart, apart.length);
  });
  return { colour: middles(0, n), scatter: middleOf(scatters, PARTS) };
}

const unlike = (p: Float64Array, q: Float64Array): boolean =>
  Math.abs(p[0] - q[0]) + Math.abs(p[1] - q[1]) + Math.abs(p[2] - q[2]) >
  0.2 * Math.min(p[0] + p[1] + p[2], q[0] + q[1] + q[2]) + 0.01;
