import { invert3, type Matrix3 } from '../math/matrix3.js';
import { biweight, median } from '../math/robust.js';

/** Positions of equally spaced marks under perspective: x(k) = (a k + b) / (c k + 1), k whole. */
export interface Comb {
  readonly a: number;
  readonly b: number;
  readonly c: number;
}

export interface CombFit {
  readonly comb: Comb;
  /** For each accepted mark: its number and its position. Ascending in k. */
  readonly marks: readonly { readonly k: number; readonly x: number }[];
  /** Root mean square of the residuals, in the unit of x. */
  readonly rms: number;
  /** Accepted marks over all marks expected between the first and the last. */
  readonly presence: number;
}

export const combAt = ({ a, b, c }: Comb, k: number): number => (a * k + b) / (c * k + 1);

/** Distance from one mark to the next around k. */
export const combPitchAt = ({ a, b, c }: Comb, k: number): number => (a - b * c) / (c * k + 1) ** 2;

/** The (fractional) number of the mark at x. */
export const combNumberAt = ({ a, b, c }: Comb, x: number): number => (x - b) / (a - c * x);

/**
 * Finds the comb in a list of candidate positions, some missing, some false.
 *
 * The longest run of even spacing starts it; the run is grown outwards mark by mark, then the exact
 * projective law is fitted by least squares and marks are dealt out again until nothing changes. Null when fewer
 * than `fewest` marks agree.
 */
export function fitComb(positions: readonly number[], fewest = 12): CombFit | null {
  const xs = [...positions].sort((p, q) => p - q);
  if (xs.length < fewest) return null;
  const seed = longestEvenRun(xs);
  if (seed === null || seed.length < 5) return null;
  let marks = grow(xs, seed);
  let comb = fitMarks(marks, 4);
  for (let round = 0; round < 8; round++) {
    const next = densestStretch(deal(xs, comb), comb);
    if (next.length < fewest) return null;
    const same =
      next.length === marks.length && next.every((m, i) => m.x === marks[i].x && m.k === marks[i].k);
    marks = next;
    if (same) break;
    comb = fitMarks(marks, 4);
  }
  comb = fitMarks(marks);
  let sum = 0;
  for (const m of marks) sum += (combAt(comb, m.k) - m.x) ** 2;
  const span = marks[marks.length - 1].k - marks[0].k + 1;
  return { comb, marks, rms: Math.sqrt(sum / Math.max(1, marks.length - 3)), presence: marks.length / span };
}

function longestEvenRun(xs: readonly number[]): { from: number; length: number } | null {
  let best = { from: 0, length: 0 };
  let from = 0;
  for (let i = 1; i < xs.length - 1; i++) {
    const d0 = xs[i] - xs[i - 1];
    const d1 = xs[i + 1] - xs[i];
    if (Math.abs(d1 - d0) > 0.14 * Math.max(d0, d1)) from = i;
    else if (i + 2 - from > best.length) best = { from, length: i + 2 - from };
  }
  return best.length > 0 ? best : null;
}

type Mark = { k: number; x: number };

function grow(xs: readonly number[], seed: { from: number; length: number }): Mark[] {
  const marks: Mark[] = [];
  for (let i = 0; i < seed.length; i++) marks.push({ k: i, x: xs[seed.from + i] });
  for (const way of [1, -1]) {
    let index = way > 0 ? seed.from + seed.length : seed.from - 1;
    while (index >= 0 && index < xs.length) {
      // The spacing here is that of the nearest few marks, with its own drift.
      const near = way > 0 ? marks.slice(-9) : marks.slice(0, 9);
      const last = way > 0 ? near[near.length - 1] : near[0];
      const spacing = (near[near.length - 1].x - near[0].x) / (near[near.length - 1].k - near[0].k);
      const steps = (way * (xs[index] - last.x)) / spacing;
      const whole = Math.round(steps);
      if (whole > 14) break;
      if (whole >= 1 && Math.abs(steps - whole) < Math.min(0.3, 0.16 + 0.02 * whole)) {
        const mark = { k: last.k + way * whole, x: xs[index] };
        if (way > 0) marks.push(mark);
        else marks.unshift(mark);
      }
      index += way;
    }
  }
  return marks;
}

/** Deals all positions, ascending, out to the comb; the best for each number, within a fifth of the spacing. */
function deal(xs: readonly number[], comb: Comb): Mark[] {
  const marks: Mark[] = [];
  let heldOff = 0;
  for (const x of xs) {
    const k = combNumberAt(comb, x);
    const whole = Math.round(k);
    const off = Math.abs(k - whole);
    // Beyond the comb's vanishing point numbers come round again from the other side.
    if (!Number.isFinite(k) || off > 0.2 || comb.c * k + 1 <= 0.2) continue;
    const held = marks.length > 0 ? marks[marks.length - 1].k : -Infinity;
    if (whole < held) continue;
    if (whole > held) marks.push({ k: whole, x });
    else if (off < heldOff) marks[marks.length - 1] = { k: whole, x };
    else continue;
    heldOff = off;
  }
  return marks;
}

/**
 * The longest stretch in which marks follow one another with few gaps and little scatter: beyond the ruler's ends weave and
 * print still give a mark here and there. Each mark scores by how near it lies to the comb, each missing one costs;
 * the stretch of greatest sum is kept (Kadane's scan).
 */
function densestStretch(marks: readonly Mark[], comb: Comb): Mark[] {
  let best = { sum: 0, from: 0, to: 0 };
  let sum = 0;
  let from = 0;
  for (let i = 0; i < marks.length; i++) {
    const gap = i > 0 ? marks[i].k - marks[i - 1].k - 1 : 0;
    const off = Math.abs(combNumberAt(comb, marks[i].x) - marks[i].k);
    sum -= 2 * gap;
    if (sum <= 0) {
      sum = 0;
      from = i;
    }
    sum += off < 0.09 ? 1 : off < 0.13 ? 0 : -1.5;
    if (sum > best.sum) best = { sum, from, to: i + 1 };
  }
  return marks.slice(best.from, best.to);
}

/** Of half the row's length: a thousandth of a px at most. */
const SETTLED = 1e-7;

/**
 * Exact law, linear start then Gauss-Newton, so many rounds at most. `strays`: with Tukey weights, which pass over strays, but also over
 * a few marks that tell of a bend in the rest.
 */
export function fitMarks(marks: readonly Mark[], rounds = 12, strays = true): Comb {
  const n = marks.length;
  const kMid = (marks[0].k + marks[n - 1].k) / 2;
  let xMid = 0;
  for (const m of marks) xMid += m.x / n;
  const kHalf = Math.max(1, (marks[n - 1].k - marks[0].k) / 2);
  const xHalf = Math.max(1e-9, (marks[n - 1].x - marks[0].x) / 2);
  const q = new Float64Array(n);
  const z = new Float64Array(n);
  for (let i = 0; i < n; i++) {
    q[i] = (marks[i].k - kMid) / kHalf;
    z[i] = (marks[i].x - xMid) / xHalf;
  }
  let A = 1;
  let B = 0;
  let C = 0;
  const weights = new Float64Array(n).fill(1);
  const residuals = new Float64Array(n);
  const sizes = new Float64Array(n);
  for (let round = 0; round < rounds; round++) {
    // Normal equations of the three parameters: small, and well scaled by the normalisation above.
    let [n00, n01, n02, n11, n12, n22, r0, r1, r2] = [0, 0, 0, 0, 0, 0, 0, 0, 0];
    for (let i = 0; i < n; i++) {
      const den = 1 / (C * q[i] + 1);
      const value = (A * q[i] + B) * den;
      const d0 = q[i] * den;
      const d2 = -value * d0;
      const w = weights[i];
      const r = z[i] - value;
      n00 += w * d0 * d0;
      n01 += w * d0 * den;
      n02 += w * d0 * d2;
      n11 += w * den * den;
      n12 += w * den * d2;
      n22 += w * d2 * d2;
      r0 += w * d0 * r;
      r1 += w * den * r;
      r2 += w * d2 * r;
    }
    const lift = 1 + 1e-12;
    const normal: Matrix3 = [n00 * lift, n01, n02, n01, n11 * lift, n12, n02, n12, n22 * lift + 1e-15];
    const inverse = invert3(normal);
    const stepA = inverse[0] * r0 + inverse[1] * r1 + inverse[2] * r2;
    const stepB = inverse[3] * r0 + inverse[4] * r1 + inverse[5] * r2;
    const stepC = inverse[6] * r0 + inverse[7] * r1 + inverse[8] * r2;
    A += stepA;
    B += stepB;
    C += stepC;
    for (let i = 0; i < n; i++) {
      residuals[i] = z[i] - (A * q[i] + B) / (C * q[i] + 1);
      sizes[i] = Math.abs(residuals[i]);
    }
    if (strays) {
      const scale = 1.4826 * median(sizes) + 1e-12;
      for (let i = 0; i < n; i++) weights[i] = biweight(residuals[i] / scale);
    }
    if (Math.hypot(stepA, stepB, stepC) < SETTLED) break;
  }
  // Back from normalised numbers: z = (A q + B) / (C q + 1), q = (k - kMid) / kHalf, x = xMid + xHalf z.
  const den0 = 1 - (C * kMid) / kHalf;
  const a = (xMid * C + xHalf * A) / kHalf / den0;
  const b = (xMid * den0 + xHalf * (B - (A * kMid) / kHalf)) / den0;
  return { a, b, c: C / kHalf / den0 };
}
