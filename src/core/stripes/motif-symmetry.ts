import { wrap } from '../math/wrap.js';
import type { MotifCell } from './motif-cell.js';
import type { MotifSpan } from './motif-places.js';

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

/** What may differ between a print and its image without anyone calling them unlike: a fiftieth of its area. */
const LIKE = 0.02;
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
  /** Part of it by which two halves of the places seen differ from their mean. */
  readonly noise: number;
}

/**
 * Compares the print of a cell with its mirror images and its half turn, at every shift that lays the first of its shapes
 * on one of them; the stripes under it are left out of account. Colours must agree.
 * @param alone the drawing by itself; else a mirror image must lie right in the next cell across, too, which a drop other than
 * none and a half forbids.
 */
export function cellSymmetry(cell: MotifCell, shapes: readonly MotifSpan[], alone = false): CellSymmetry {
  const drawing = drawingOf(cell);
  const of = (acrossSign: 1 | -1, alongSign: 1 | -1): Likeness =>
    judged(likeness(drawing, shapes, acrossSign, alongSign, alone), drawing.noise);
  return { mirrorAlong: of(1, -1), mirrorAcross: of(-1, 1), halfTurn: of(-1, -1) };
}

/** The further from the limit, up or down, the surer. */
function judged(score: number, noise: number): Likeness {
  const limit = LIKE + NOISE * noise;
  const miss = 1 - score;
  const ratio = (miss / limit) ** 2;
  const confidence = Math.max(ratio, 1) / (1 + ratio);
  return { score, same: confidence < SURE ? null : miss < limit, confidence };
}

function drawingOf({ columns, bins, dropBins, labels, cover, halfDifference }: MotifCell): Drawing {
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
  const noise = smoothed(difference, grid).reduce((sum, d) => sum + d * d, 0);
  const places = Int32Array.from(
    [...(layers[0]?.keys() ?? [])].filter((i) => layers.some((layer) => layer[i] > 0)),
  );
  const power = layers.reduce((sum, layer) => layer.reduce((s, f) => s + f * f, sum), 0);
  return { ...grid, places, layers, power, noise: power > 0 ? noise / (4 * power) : 1 };
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
  shapes: readonly MotifSpan[],
  acrossSign: 1 | -1,
  alongSign: 1 | -1,
  alone: boolean,
): number {
  if (drawing.power === 0) return 0;
  const { columns, bins, dropBins } = drawing;
  // One axis reversed, the next cell's image steps the other way.
  const steps = alone || acrossSign === alongSign ? [0] : [0, 2 * dropBins];
  const first = shapes[0];
  const tried = new Map<string, number>();
  const sharedAt = (du: number, dv: number): number => {
    const key = `${wrap(du, columns)},${wrap(dv, bins)}`;
    let value = tried.get(key);
    if (value === undefined) {
      value = 0;
      for (const step of steps)
        value += shared(drawing, acrossSign, alongSign, du, dv + Math.round(step)) / steps.length;
      tried.set(key, value);
    }
    return value;
  };
  let best: Shift = { du: 0, dv: 0, value: -1 };
  for (const other of shapes) {
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
  const { du, dv, value } = best;
  const lift =
    aboveMiddle(sharedAt(du - 1, dv), value, sharedAt(du + 1, dv)) +
    aboveMiddle(sharedAt(du, dv - 1), value, sharedAt(du, dv + 1));
  return Math.min(1, (value + lift) / drawing.power);
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

/** Product of a print's cover with its image's, shifted by du columns and dv bins. */
function shared(
  { columns, bins, dropBins, places, layers }: Drawing,
  acrossSign: 1 | -1,
  alongSign: 1 | -1,
  du: number,
  dv: number,
): number {
  let sum = 0;
  for (const i of places) {
    const column = Math.floor(i / bins);
    const u = acrossSign * column + du;
    const turns = Math.floor(u / columns);
    const v = alongSign * (i - column * bins) + dv - Math.round(turns * dropBins);
    const at = (u - turns * columns) * bins + wrap(v, bins);
    for (const layer of layers) sum += layer[i] * layer[at];
  }
  return sum;
}
