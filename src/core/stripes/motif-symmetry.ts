import { wrap } from '../math/wrap.js';
import type { MotifCell } from './motif-cell.js';
import type { MotifShape } from './motif-places.js';

/** How far a print is its own image at the best place of that image. */
export interface Likeness {
  /** 1: wholly; 0: the two have nothing in common. */
  readonly score: number;
  /** Null where it is too close to call. */
  readonly same: boolean | null;
  /** That the nearer answer is right, 0.5..1. */
  readonly confidence: number;
}

/** A print against its own images; shifts along and across are free, so glides count as mirrors do. */
export interface CellSymmetry {
  /** v reversed. */
  readonly mirrorAlong: Likeness;
  /** u reversed. */
  readonly mirrorAcross: Likeness;
  /** Both reversed: one end turned round. */
  readonly halfTurn: Likeness;
}

/** What may differ between a print and its image without anyone calling them unlike: a part of its area. Even prints stay under 0.005. */
const LIKE = 0.015;
/** The two halves of the places a cell is averaged over tell its noise; so many times that may be missed besides. */
const NOISE = 3;
/** Surer than this is an answer. */
const SURE = 0.75;

/** A cell's print: how much of each place each of its colours covers, slightly smoothed. */
interface Drawing {
  readonly columns: number;
  readonly bins: number;
  readonly dropBins: number;
  /** Places with print. */
  readonly places: Int32Array;
  /** One a colour. */
  readonly layers: readonly Float32Array[];
  /** Squares of the cover. */
  readonly power: number;
  /** The larger of its shapes. */
  readonly parts: readonly DrawnPart[];
  /** Which shape each place belongs to, or -1; squares of the cover of each shape. */
  readonly owners: Int16Array;
  readonly powers: readonly number[];
}

interface DrawnPart {
  readonly places: Int32Array;
  readonly power: number;
  /** Part of it by which two halves of the places seen differ from their mean. */
  readonly noise: number;
}

export type SymmetryShape = Pick<MotifShape, 'span' | 'places'>;

/** Shapes under this part of the largest one do not decide: they are mostly rim. */
const LEAST_PART = 0.15;

/**
 * Compares the print of a cell with its mirror images and its half turn, at every shift that lays the first of its shapes
 * on one of them; the stripes under it are left out of account. Colours must agree.
 * @param alone the drawing by itself; else a mirror image must lie right in the next cell across, too, which a drop other than
 * none and a half forbids.
 */
export function cellSymmetry(cell: MotifCell, shapes: readonly SymmetryShape[], alone = false): CellSymmetry {
  const drawing = drawingOf(cell, shapes);
  const of = (acrossSign: 1 | -1, alongSign: 1 | -1): Likeness => {
    const { score, parts } = likeness(drawing, shapes, acrossSign, alongSign, alone);
    return { ...judged(parts), score };
  };
  return { mirrorAlong: of(1, -1), mirrorAcross: of(-1, 1), halfTurn: of(-1, -1) };
}

/**
 * The further from the limit, up or down, the surer. The shape least like its image decides: beside a large disc, a small
 * arrow that points the other way would hardly show in the whole.
 */
function judged(
  parts: readonly { readonly score: number; readonly noise: number }[],
): Omit<Likeness, 'score'> {
  const worst = Math.max(...parts.map(({ score, noise }) => (1 - score) / (LIKE + NOISE * noise)));
  const ratio = worst ** 2;
  const confidence = Math.max(ratio, 1) / (1 + ratio);
  return { same: confidence < SURE ? null : worst < 1, confidence };
}

function drawingOf(
  { columns, bins, dropBins, labels, cover, halfDifference }: MotifCell,
  shapes: readonly SymmetryShape[],
): Drawing {
  const kinds = labels.reduce((most, label) => Math.max(most, label), 0);
  const grid = { columns, bins, dropBins };
  const sharp = Array.from({ length: kinds }, () => new Float32Array(columns * bins));
  const difference = new Float32Array(columns * bins);
  for (let i = 0; i < columns * bins; i++) {
    if (cover[i] === 0) continue;
    const label = labels[i] > 0 ? labels[i] : besides(labels, columns, bins, i);
    if (label === 0) continue;
    sharp[label - 1][i] = cover[i];
    difference[i] = halfDifference[i];
  }
  const layers = sharp.map((layer) => smoothed(layer, grid));
  const noise = smoothed(difference, grid);
  const places = Int32Array.from(
    [...(layers[0]?.keys() ?? [])].filter((i) => layers.some((layer) => layer[i] > 0)),
  );
  const partOf = (own: Int32Array): DrawnPart => {
    const power = layers.reduce((sum, layer) => own.reduce((s, i) => s + layer[i] ** 2, sum), 0);
    return {
      places: own,
      power,
      noise: power > 0 ? own.reduce((sum, i) => sum + noise[i] ** 2, 0) / (4 * power) : 1,
    };
  };
  const owners = new Int16Array(columns * bins).fill(-1);
  const found = shapes.map(({ places: own }, k) => {
    const all = withRim(own, grid);
    for (const i of all) owners[i] = k;
    return partOf(all);
  });
  const powers = found.map(({ power }) => power);
  const parts = found.filter(({ power }) => power > LEAST_PART * Math.max(...powers));
  const power = layers.reduce((sum, layer) => layer.reduce((s, f) => s + f * f, sum), 0);
  return { ...grid, places, layers, power, parts, owners, powers };
}

/** Places and those beside them, to which smoothing spreads. */
function withRim(
  places: readonly number[],
  { columns, bins }: Pick<Drawing, 'columns' | 'bins'>,
): Int32Array {
  const all = new Set<number>();
  for (const i of places) {
    const u = Math.floor(i / bins);
    for (let du = -1; du <= 1; du++)
      for (let dv = -1; dv <= 1; dv++) all.add(wrap(u + du, columns) * bins + wrap((i % bins) + dv, bins));
  }
  return Int32Array.from(all);
}

/** Weights 1, 2, 1 either way: a drawing and its image lie up to half a place apart, which a sharp rim would not forgive. */
function smoothed(
  layer: Float32Array,
  { columns, bins, dropBins }: Pick<Drawing, 'columns' | 'bins' | 'dropBins'>,
): Float32Array {
  const along = new Float32Array(layer.length);
  for (let u = 0; u < columns; u++) {
    const column = layer.subarray(u * bins, (u + 1) * bins);
    if (!column.some((f) => f !== 0)) continue;
    for (let v = 0; v < bins; v++)
      along[u * bins + v] =
        (column[v === 0 ? bins - 1 : v - 1] + 2 * column[v] + column[v + 1 === bins ? 0 : v + 1]) / 4;
  }
  const out = new Float32Array(layer.length);
  const lift = Math.round(dropBins);
  for (let u = 0; u < columns; u++) {
    for (let v = 0; v < bins; v++) {
      const before = u > 0 ? along[(u - 1) * bins + v] : along[(columns - 1) * bins + wrap(v + lift, bins)];
      const after = u + 1 < columns ? along[(u + 1) * bins + v] : along[wrap(v - lift, bins)];
      out[u * bins + v] = (before + 2 * along[u * bins + v] + after) / 4;
    }
  }
  return out;
}

/** The colour that a place half covered at the rim of a shape is of; 0 for a speck far from all. */
function besides(labels: Uint8Array, columns: number, bins: number, i: number): number {
  const u = Math.floor(i / bins);
  const v = i % bins;
  for (const [du, dv] of STEPS) {
    const label = labels[wrap(u + du, columns) * bins + wrap(v + dv, bins)];
    if (label > 0) return label;
  }
  return 0;
}

/** Steps up, of one place of the cell each: the middle of a drawing's box is not far from the middle of its image's. */
const MOST_STEPS = 4;
const STEPS = [
  [1, 0],
  [-1, 0],
  [0, 1],
  [0, -1],
] as const;

interface Shift {
  readonly du: number;
  readonly dv: number;
  readonly value: number;
}

/** From a shift to the best one near it. */
function climbed(sharedAt: (du: number, dv: number) => number, du: number, dv: number): Shift {
  let best: Shift = { du, dv, value: sharedAt(du, dv) };
  for (let step = 0; step < MOST_STEPS; step++) {
    const from = best;
    for (const [a, b] of STEPS) {
      const value = sharedAt(from.du + a, from.dv + b);
      if (value > best.value) best = { du: from.du + a, dv: from.dv + b, value };
    }
    if (best === from) break;
  }
  return best;
}

function likeness(
  drawing: Drawing,
  shapes: readonly SymmetryShape[],
  acrossSign: 1 | -1,
  alongSign: 1 | -1,
  alone: boolean,
): { score: number; parts: { score: number; noise: number }[] } {
  if (drawing.power === 0) return { score: 0, parts: [{ score: 0, noise: 1 }] };
  const { columns, bins, dropBins } = drawing;
  // One axis reversed, the next cell's image steps the other way.
  const steps = alone || acrossSign === alongSign ? [0] : [0, 2 * dropBins];
  const first = shapes[0].span;
  const sharedOver = (places: Int32Array, du: number, dv: number): number => {
    let value = 0;
    for (const step of steps)
      value += shared(drawing, places, acrossSign, alongSign, du, dv + Math.round(step)) / steps.length;
    return value;
  };
  const tried = new Map<string, number>();
  const sharedAt = (du: number, dv: number): number => {
    const key = `${wrap(du, columns)},${wrap(dv, bins)}`;
    const held = tried.get(key);
    if (held !== undefined) return held;
    const value = sharedOver(drawing.places, du, dv);
    tried.set(key, value);
    return value;
  };
  let best: Shift = { du: 0, dv: 0, value: -1 };
  for (const { span: other } of shapes) {
    // A shape without end has no middle: every shift is tried.
    const dus = shiftsOf(first.u, first.wide, other.u, other.wide, acrossSign, columns);
    const dvs = shiftsOf(first.v, first.tall, other.v, other.tall, alongSign, bins);
    for (const du of dus) {
      for (const dv of dvs) {
        const top = climbed(sharedAt, du, dv);
        if (top.value > best.value) best = top;
      }
    }
  }
  // The true place lies between those of the grid: the top of a parabola either way.
  const { du, dv } = best;
  const scoreOf = (at: (du: number, dv: number) => number, power: number): number => {
    const value = at(du, dv);
    const lift =
      aboveMiddle(at(du - 1, dv), value, at(du + 1, dv)) + aboveMiddle(at(du, dv - 1), value, at(du, dv + 1));
    return Math.min(1, (value + lift) / power);
  };
  return {
    score: scoreOf(sharedAt, drawing.power),
    parts: drawing.parts.map(({ places, power, noise }) => {
      // Of two shapes that change places neither gains by having the greater power.
      const other = powerUnder(drawing, places, acrossSign, alongSign, du, dv);
      return { score: scoreOf((a, b) => sharedOver(places, a, b), (power + other) / 2), noise };
    }),
  };
}

function aboveMiddle(before: number, middle: number, after: number): number {
  const bend = 2 * middle - before - after;
  return bend > 0 && middle >= before && middle >= after ? (after - before) ** 2 / (8 * bend) : 0;
}

function shiftsOf(
  from: number,
  size: number,
  otherFrom: number,
  otherSize: number,
  sign: 1 | -1,
  period: number,
): number[] {
  if (size === period) return Array.from({ length: period }, (_, d) => d);
  const middle = Math.round(otherFrom + (otherSize - 1) / 2 - sign * (from + (size - 1) / 2));
  return [middle];
}

/** Where the image of a place lies: u reversed or not, v reversed or not, then shifted by du columns and dv bins. */
function imageOf(
  { columns, bins, dropBins }: Drawing,
  i: number,
  acrossSign: 1 | -1,
  alongSign: 1 | -1,
  du: number,
  dv: number,
): number {
  const column = Math.floor(i / bins);
  const u = acrossSign * column + du;
  const turns = Math.floor(u / columns);
  const v = alongSign * (i - column * bins) + dv - Math.round(turns * dropBins);
  return (u - turns * columns) * bins + wrap(v, bins);
}

/** Product of the cover at these places with its image's. */
function shared(
  drawing: Drawing,
  places: Int32Array,
  acrossSign: 1 | -1,
  alongSign: 1 | -1,
  du: number,
  dv: number,
): number {
  let sum = 0;
  for (const i of places) {
    const at = imageOf(drawing, i, acrossSign, alongSign, du, dv);
    for (const layer of drawing.layers) sum += layer[i] * layer[at];
  }
  return sum;
}

/** Squares of the cover of the shape that most of the image of these places lies on; 0 where it lies on none. */
function powerUnder(
  drawing: Drawing,
  places: Int32Array,
  acrossSign: 1 | -1,
  alongSign: 1 | -1,
  du: number,
  dv: number,
): number {
  const { owners, powers } = drawing;
  const counts = new Uint32Array(powers.length);
  for (const i of places) {
    const owner = owners[imageOf(drawing, i, acrossSign, alongSign, du, dv)];
    if (owner >= 0) counts[owner]++;
  }
  const most = counts.indexOf(Math.max(...counts));
  return counts[most] > 0 ? powers[most] : 0;
}
