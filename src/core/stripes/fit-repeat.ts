import type { Lab } from '../colour/lab.js';
import { type RunningMisfit, runningMisfit } from './running-colour.js';

/** A band of one repeat as read so far; width in columns at the middle of the picture. */
export interface TemplateBand {
  readonly lab: Lab;
  readonly columns: number;
  /** Of a shaded band: what its colour runs by from its start to its end, `lab` standing at its middle. */
  readonly run?: Lab;
}

type ShadedBand = TemplateBand & { readonly run: Lab };

const isShaded = (band: TemplateBand): band is ShadedBand => band.run !== undefined;

/** Pieces in order of growing column; the first starts where the profile does. */
export interface RepeatFit {
  readonly starts: readonly number[];
  /** Of each piece: place in the template, and how many times the template began before it. */
  readonly bands: readonly number[];
  readonly repeats: readonly number[];
  readonly cost: number;
}

/** A column off its band's colour by this much (CIE76) costs half a unit ... */
const COLOUR_SD = 3;
/** ... and no column costs more than one this far off: a motif's rim or a ruler's end must not decide. */
const FURTHEST = 45;
/** Scatter of a band's width about the template, as a logarithm: unevenness and what stretch is left. */
const WIDTH_LOG_SD = 0.2;
const NARROWEST = 0.55;
const WIDEST = 1.8;

/**
 * Lays the template's bands over a profile, over and over in their order, where colours and widths fit best (dynamic
 * programming over place and band). As the order is given, no band can be missed or found twice. Columns not seen cost
 * nothing, so the count goes on through a stretch hidden by a ruler. The first and the last piece may be cut off.
 *
 * @param lab 3 values a column. Columns from..to (half open) are covered.
 * @param seen 1 for a column with colour.
 * @param stretch How much wider than in the template bands are at a column.
 */
export function fitRepeat(
  lab: ArrayLike<number>,
  seen: ArrayLike<number>,
  from: number,
  to: number,
  template: readonly TemplateBand[],
  stretch: (column: number) => number,
): RepeatFit {
  const n = template.length;
  const total = to - from;
  const spent = template.map((band) => colourCosts(lab, seen, from, to, band.lab));
  const logs = Float64Array.from({ length: total + 2 }, (_, i) => Math.log(i));
  // Least cost of a cover of the first x columns that ends with band b, and the length of that last piece.
  const least = template.map(() => new Float64Array(total + 1).fill(Infinity));
  const length = template.map(() => new Int32Array(total + 1));
  // The same with the band before it in last place, less what the own colour has cost so far: what a piece of band b starts from.
  const ahead = template.map(() => new Float64Array(total + 1).fill(Infinity));
  const pull = template.map(({ columns }) => 0.5 / (WIDTH_LOG_SD ** 2 + (0.5 / columns) ** 2));
  const misfit = template.some(isShaded) ? runningMisfit(lab, seen, from, to) : null;
  for (let x = 1; x <= total; x++) {
    const wide = stretch(from + x);
    for (let b = 0; b < n; b++) {
      const band = template[b];
      const columns = band.columns * wide;
      if (misfit !== null && isShaded(band)) {
        const best = bestShadedPiece(least[b === 0 ? n - 1 : b - 1], logs, x, columns, pull[b], band, misfit);
        length[b][x] = best.size;
        least[b][x] = best.cost;
        continue;
      }
      const piece = bestPiece(ahead[b], logs, x, columns, pull[b]);
      length[b][x] = piece;
      least[b][x] = spent[b][x] + pieceCost(ahead[b], logs, x, piece, columns, pull[b]);
    }
    for (let b = 0; b < n; b++) ahead[b][x] = least[b === 0 ? n - 1 : b - 1][x] - spent[b][x];
  }
  const colourCost = (b: number, x: number, size: number, columns: number): number => {
    const band = template[b];
    return misfit !== null && isShaded(band)
      ? shadedCost(band, misfit, x, size, columns, 'start')
      : spent[b][x] - spent[b][x - size];
  };
  return walkBack(template, least, length, colourCost, logs, stretch(to), from, total);
}

/**
 * What the colours of the piece of `size` columns that ends at x cost in a shaded band of so many columns. One cut off by the
 * view shows the rest of its run: from its `start` on, or up to its `end`.
 */
function shadedCost(
  band: ShadedBand,
  misfit: RunningMisfit,
  x: number,
  size: number,
  columns: number,
  shown: 'whole' | 'start' | 'end',
): number {
  const length = shown === 'whole' ? size : Math.max(size, columns);
  const start = shown === 'end' ? x - length : x - size;
  return misfit(band, start, length, x - size, x) / (2 * COLOUR_SD ** 2);
}

/** The piece of a shaded band that ends best at column x, and what all up to there costs. */
function bestShadedPiece(
  before: Float64Array,
  logs: Float64Array,
  x: number,
  columns: number,
  weight: number,
  band: ShadedBand,
  misfit: RunningMisfit,
): { size: number; cost: number } {
  const logColumns = Math.log(columns);
  const low = Math.max(1, Math.floor(NARROWEST * columns));
  const high = Math.ceil(WIDEST * columns);
  const best = { size: 0, cost: Infinity };
  if (x <= high) {
    const over = Math.max(0, logs[x] - logColumns);
    best.cost = weight * over * over + shadedCost(band, misfit, x, x, columns, 'end');
    best.size = x;
  }
  for (let size = low, last = Math.min(high, x - 1); size <= last; size++) {
    const off = logs[size] - logColumns;
    const above = before[x - size] + weight * off * off;
    if (above >= best.cost) continue;
    const cost = above + shadedCost(band, misfit, x, size, columns, 'whole');
    if (cost < best.cost) {
      best.cost = cost;
      best.size = size;
    }
  }
  return best;
}

/** Length of the piece that ends best at column x; 0 where none can. */
function bestPiece(
  before: Float64Array,
  logs: Float64Array,
  x: number,
  columns: number,
  weight: number,
): number {
  const logColumns = Math.log(columns);
  const low = Math.max(1, Math.floor(NARROWEST * columns));
  const high = Math.ceil(WIDEST * columns);
  let best = Infinity;
  let taken = 0;
  if (x <= high) {
    const over = Math.max(0, logs[x] - logColumns);
    best = weight * over * over;
    taken = x;
  }
  for (let size = low, last = Math.min(high, x - 1); size <= last; size++) {
    const off = logs[size] - logColumns;
    const cost = before[x - size] + weight * off * off;
    if (cost < best) {
      best = cost;
      taken = size;
    }
  }
  return taken;
}

/** What that piece costs, its own colour left out; the profile's first may be cut off and so be too short for nothing. */
function pieceCost(
  before: Float64Array,
  logs: Float64Array,
  x: number,
  size: number,
  columns: number,
  weight: number,
): number {
  if (size === 0) return Infinity;
  const off = logs[size] - Math.log(columns);
  if (size < x) return before[x - size] + weight * off * off;
  return off > 0 ? weight * off * off : 0;
}

/** The last piece may be cut off: it is chosen apart, then the path is followed to the start. */
function walkBack(
  template: readonly TemplateBand[],
  least: readonly Float64Array[],
  length: readonly Int32Array[],
  colourCost: (band: number, x: number, size: number, columns: number) => number,
  logs: Float64Array,
  wide: number,
  from: number,
  total: number,
): RepeatFit {
  const n = template.length;
  let cost = Infinity;
  let band = 0;
  let size = total;
  for (let b = 0; b < n; b++) {
    const columns = template[b].columns * wide;
    const before = least[(b + n - 1) % n];
    for (let s = 1; s <= Math.min(total - 1, Math.ceil(WIDEST * columns)); s++) {
      const over = Math.max(0, logs[s] - Math.log(columns));
      const trial = before[total - s] + colourCost(b, total, s, columns) + 12 * over * over;
      if (trial < cost) {
        cost = trial;
        band = b;
        size = s;
      }
    }
  }
  const starts: number[] = [];
  const bands: number[] = [];
  let x = total;
  while (x > 0) {
    x -= size;
    starts.push(from + x);
    bands.push(band);
    band = (band + n - 1) % n;
    size = x > 0 ? length[band][x] : 0;
    if (x > 0 && size === 0) break;
  }
  starts.reverse();
  bands.reverse();
  const first = bands[0] ?? 0;
  return { starts, bands, repeats: bands.map((_, k) => Math.floor((first + k) / n)), cost };
}

/** Running sum over the columns of what their colour costs in a band of colour `lab`. */
function colourCosts(
  lab: ArrayLike<number>,
  seen: ArrayLike<number>,
  from: number,
  to: number,
  [l, a, b]: Lab,
): Float64Array {
  const sums = new Float64Array(to - from + 1);
  for (let x = from; x < to; x++) {
    let cost = 0;
    if (seen[x]) {
      const square = (lab[3 * x] - l) ** 2 + (lab[3 * x + 1] - a) ** 2 + (lab[3 * x + 2] - b) ** 2;
      cost = Math.min(square, FURTHEST ** 2) / (2 * COLOUR_SD ** 2);
    }
    sums[x - from + 1] = sums[x - from] + cost;
  }
  return sums;
}
