import { linearFromByte } from '../colour/srgb.js';
import { robustSd } from '../math/robust.js';
import type { StraightCloth } from '../rectify/straight-cloth.js';
import { evenGains, type LightField } from './light-field.js';

/** Each round takes what is still mixed of rows and columns to a fraction: a view whose corners are cut off mixes them little. */
const ROUNDS = 3;
/** A table or a hand draws the first parts off: what is no cloth is told better each time. */
const PASSES = 4;
/** What is left over by more than this many times its usual scatter is no cloth; where crossings are no sums, all is scattered. */
const MOST_OFF = 5;
/** Linear light: noise is never supposed less. */
const LEAST_SCATTER = 0.004;
/** Pixels that the scatter is taken from. */
const SAMPLES = 20_000;

/**
 * Colour of each column of a check as it would be with every row in view, linear sRGB, 3 values a column; NaN for columns out of sight.
 * Yarns add their light, so a pixel is the sum of a column's part and a row's; columns of which a hand, a ruler or the frame hides
 * other rows would else seem of other colours (analysis of variance with empty cells, by alternating means).
 */
export function columnEffects(cloth: StraightCloth, light: LightField): Float64Array {
  const { width, height } = cloth.picture;
  const columns = new Float64Array(3 * width).fill(Number.NaN);
  const gains = gainsOver(width, height, light);
  const values = new Float32Array(width * height);
  const used = new Uint8Array(width * height);
  for (let c = 0; c < 3; c++) {
    fillEven(cloth, gains, c, values);
    const column = new Float64Array(width);
    const row = new Float64Array(height);
    used.set(cloth.cloth);
    let seen = alternate(values, used, column, row);
    for (let pass = 0; pass < PASSES; pass++) {
      used.set(cloth.cloth);
      leaveOutStrays(values, used, column, row);
      seen = alternate(values, used, column, row);
    }
    for (let x = 0; x < width; x++)
      columns[3 * x + c] = seen[x] > 0 ? column[x] : meanOfColumn(values, cloth.cloth, x, row);
  }
  return columns;
}

/** 1 / gain of the light at every pixel. */
function gainsOver(width: number, height: number, light: LightField): Float32Array {
  const gains = new Float32Array(width * height);
  const down = new Float64Array(height);
  for (let x = 0; x < width; x++) {
    evenGains(light, x, 0, 1, down);
    for (let y = 0; y < height; y++) gains[y * width + x] = down[y];
  }
  return gains;
}

/** One channel in linear light under even light, where there is cloth. */
function fillEven(
  { picture: { data }, cloth }: StraightCloth,
  gains: Float32Array,
  channel: number,
  values: Float32Array,
): void {
  for (let i = 0; i < values.length; i++)
    if (cloth[i]) values[i] = linearFromByte[data[3 * i + channel]] * gains[i];
}

/** Means of columns without their rows' parts and of rows without their columns', in turn; rows' parts have mean 0. Returns columns' counts. */
function alternate(
  values: Float32Array,
  used: Uint8Array,
  column: Float64Array,
  row: Float64Array,
): Uint32Array {
  const width = column.length;
  const counts = new Uint32Array(width);
  for (let y = 0; y < row.length; y++) countRow(used, y * width, counts);
  for (let round = 0; round < ROUNDS; round++) {
    const sums = new Float64Array(width);
    for (let y = 0; y < row.length; y++) addRow(values, used, y * width, row[y], sums);
    for (let x = 0; x < width; x++) column[x] = counts[x] > 0 ? sums[x] / counts[x] : 0;
    for (let y = 0; y < row.length; y++) row[y] = meanOfRow(values, used, y * width, column, row[y]);
    const mean = row.reduce((sum, v) => sum + v, 0) / row.length;
    for (let y = 0; y < row.length; y++) row[y] -= mean;
  }
  return counts;
}

function countRow(used: Uint8Array, start: number, counts: Uint32Array): void {
  for (let x = 0; x < counts.length; x++) counts[x] += used[start + x];
}

function addRow(
  values: Float32Array,
  used: Uint8Array,
  start: number,
  part: number,
  sums: Float64Array,
): void {
  for (let x = 0; x < sums.length; x++) if (used[start + x]) sums[x] += values[start + x] - part;
}

function meanOfRow(
  values: Float32Array,
  used: Uint8Array,
  start: number,
  column: Float64Array,
  before: number,
): number {
  let sum = 0;
  let n = 0;
  for (let x = 0; x < column.length; x++) {
    if (!used[start + x]) continue;
    sum += values[start + x] - column[x];
    n++;
  }
  return n > 0 ? sum / n : before;
}

/** What a column is without its rows' parts, strays and all: it may be none of the sum throughout, as one on an edge. NaN out of sight. */
function meanOfColumn(values: Float32Array, cloth: Uint8Array, x: number, row: Float64Array): number {
  const width = values.length / row.length;
  let sum = 0;
  let n = 0;
  for (let y = 0; y < row.length; y++) {
    if (!cloth[y * width + x]) continue;
    sum += values[y * width + x] - row[y];
    n++;
  }
  return n > 0 ? sum / n : Number.NaN;
}

function leaveOutStrays(
  values: Float32Array,
  used: Uint8Array,
  column: Float64Array,
  row: Float64Array,
): void {
  const width = column.length;
  const step = Math.max(1, Math.floor(values.length / SAMPLES));
  const left: number[] = [];
  for (let i = 0; i < values.length; i += step)
    if (used[i]) left.push(values[i] - column[i % width] - row[Math.floor(i / width)]);
  const limit = MOST_OFF * Math.max(LEAST_SCATTER, robustSd(left));
  for (let y = 0; y < row.length; y++)
    for (let x = 0; x < width; x++) {
      const i = y * width + x;
      if (used[i] && Math.abs(values[i] - column[x] - row[y]) > limit) used[i] = 0;
    }
}
