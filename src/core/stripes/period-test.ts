import { fTailProbability } from '../math/f-test.js';
import { median } from '../math/robust.js';

/** What a repeat must reproduce, one entry a segment that has a place in it. */
export interface BandReading {
  /** Count through the cloth: band + bands per repeat * repeat. */
  readonly count: number;
  /** Across the picture, -1 to 1. */
  readonly x: number;
  /** Columns. */
  readonly width: number;
  /** Natural logarithm of the width (NaN for a band cut by the frame), L, a, b. */
  readonly values: readonly number[];
}

/** A longer repeat is taken only if chance would make it look that much better once in ten thousand times. */
const CHANCE = 1e-4;
/** ... and if its bands differ by what a person could see: one unit of CIELAB, 1.2 % of width and a quarter of a column. */
const LEAST_COLOUR_STEP = 1;
const LEAST_WIDTH_STEP = 0.012;
const LEAST_COLUMNS_STEP = 0.25;
/** What is never known better, as a standard deviation: a tenth of a unit of colour, 0.3 % of width, 0.06 column. */
const COLOUR_FLOOR = 0.1;
const WIDTH_FLOOR = 0.003;
const COLUMNS_FLOOR = 0.06;

/**
 * Does a repeat of `longer` bands explain widths or colours better than one of `shorter` (a part of it) by more than its additional
 * free values would by chance? F test on residuals about class means, with a smooth drift of width (perspective) and of
 * lightness (light) across the picture common to all classes.
 */
export function isLongerRepeat(rows: readonly BandReading[], shorter: number, longer: number): boolean {
  for (let v = 0; v < 4; v++) {
    const used = rows.filter((r) => !Number.isNaN(r.values[v]));
    const columns = median(used.map((r) => r.width));
    const floor = v > 0 ? COLOUR_FLOOR : Math.max(WIDTH_FLOOR, COLUMNS_FLOOR / columns);
    const weights = evenWeights(used, v, longer, floor);
    const p = classFit(used, v, shorter, weights);
    const q = classFit(used, v, longer, weights);
    const d1 = q.parameters - p.parameters;
    const d2 = used.length - q.parameters;
    if (d1 < 1 || d2 < 3) continue;
    const scatter = Math.max(q.rss / d2, floor ** 2);
    const f = (p.rss - q.rss) / d1 / scatter;
    if (fTailProbability(f, d1, d2) < CHANCE && stepShows(used, q.means, v, shorter, longer)) return true;
  }
  return false;
}

/** Do classes of the longer repeat that are one class of the shorter differ by what can be seen? */
function stepShows(
  rows: readonly BandReading[],
  means: Float64Array,
  v: number,
  shorter: number,
  longer: number,
): boolean {
  for (let b = 0; b < longer; b++) {
    for (let c = b + shorter; c < longer; c += shorter) {
      const step = Math.abs(means[b] - means[c]);
      if (v > 0 && step >= LEAST_COLOUR_STEP) return true;
      if (v > 0 || !(step >= LEAST_WIDTH_STEP)) continue;
      const own = rows.filter((r) => mod(r.count, longer) === b).map((r) => r.width);
      if (step * median(own) >= LEAST_COLUMNS_STEP) return true;
    }
  }
  return false;
}

/**
 * Weights that make all bands equally uncertain: a line of three columns tells its colour less well than a broad band, and its
 * width far less. Variance a + b g, g = 1 / width for colours and its square for log widths, from the residuals
 * of the wider and the narrower half; 1 for the widest.
 */
function evenWeights(rows: readonly BandReading[], v: number, n: number, floor: number): Float64Array {
  const g = rows.map((r) => (v === 0 ? 1 / r.width ** 2 : 1 / r.width));
  const even = new Float64Array(rows.length).fill(1);
  const middle = median(g);
  const { misses } = classFit(rows, v, n, even);
  const sums = { narrow: 0, narrowG: 0, narrowN: 0, wide: 0, wideG: 0, wideN: 0 };
  g.forEach((value, i) => {
    const square = misses[i] ** 2 + floor ** 2;
    if (value > middle) {
      sums.narrow += square;
      sums.narrowG += value;
      sums.narrowN++;
    } else {
      sums.wide += square;
      sums.wideG += value;
      sums.wideN++;
    }
  });
  const { narrow, narrowG, narrowN, wide, wideG, wideN } = sums;
  if (narrowN < 4 || wideN < 4 || narrowG / narrowN < (1.5 * wideG) / wideN) return even;
  const b = Math.max(0, (narrow / narrowN - wide / wideN) / (narrowG / narrowN - wideG / wideN));
  const a = Math.max(floor ** 2, wide / wideN - (b * wideG) / wideN);
  const least = a + b * Math.min(...g);
  return Float64Array.from(g, (value) => least / (a + b * value));
}

interface ClassFit {
  /** Weighted. */
  readonly rss: number;
  readonly parameters: number;
  /** Mean of each class with the drift taken off; NaN for an empty one. */
  readonly means: Float64Array;
  readonly misses: Float64Array;
}

const mod = (count: number, n: number): number => ((count % n) + n) % n;

/** Least squares of class means plus drift b x + c x^2; within classes only the drift is left to solve for. */
function classFit(rows: readonly BandReading[], v: number, n: number, weights: Float64Array): ClassFit {
  const weight = new Float64Array(n);
  const sums = new Float64Array(3 * n);
  rows.forEach((r, i) => {
    const b = mod(r.count, n);
    weight[b] += weights[i];
    sums[3 * b] += weights[i] * r.values[v];
    sums[3 * b + 1] += weights[i] * r.x;
    sums[3 * b + 2] += weights[i] * r.x * r.x;
  });
  let xx = 1e-9;
  let xs = 0;
  let ss = 1e-9;
  let xy = 0;
  let sy = 0;
  rows.forEach((r, i) => {
    const b = mod(r.count, n);
    const y = r.values[v] - sums[3 * b] / weight[b];
    const x = r.x - sums[3 * b + 1] / weight[b];
    const s = r.x * r.x - sums[3 * b + 2] / weight[b];
    xx += weights[i] * x * x;
    xs += weights[i] * x * s;
    ss += weights[i] * s * s;
    xy += weights[i] * x * y;
    sy += weights[i] * s * y;
  });
  const det = xx * ss - xs * xs;
  const slope = det > 1e-12 ? (xy * ss - sy * xs) / det : xy / xx;
  const bend = det > 1e-12 ? (sy * xx - xy * xs) / det : 0;
  const means = Float64Array.from(
    { length: n },
    (_, b) => (sums[3 * b] - slope * sums[3 * b + 1] - bend * sums[3 * b + 2]) / weight[b],
  );
  const misses = Float64Array.from(
    rows,
    (r) => r.values[v] - means[mod(r.count, n)] - slope * r.x - bend * r.x * r.x,
  );
  const rss = misses.reduce((sum, m, i) => sum + weights[i] * m * m, 0);
  const classes = weight.reduce((sum, w) => sum + (w > 0 ? 1 : 0), 0);
  return { rss, parameters: classes + 2, means, misses };
}
