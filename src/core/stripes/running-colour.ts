import type { Lab } from '../colour/lab.js';
import { lineOver } from './line-over.js';

/** A colour that runs evenly from one end of a band to the other: at its middle, and from its start to its end. */
export interface RunningColour {
  readonly lab: Lab;
  readonly run: Lab;
}

/** Sum of the squared distances (CIE76) of columns a..b of a profile from a colour that runs over `length` columns from `start` on. */
export type RunningMisfit = (
  colour: RunningColour,
  start: number,
  length: number,
  a: number,
  b: number,
) => number;

/**
 * Misfits of any stretch at once, from running sums over the columns from..to of 1, x, x squared, the colour, its square and its product
 * with x. Columns not seen count nothing. The places handed to what is returned count from `from`.
 */
export function runningMisfit(
  lab: ArrayLike<number>,
  seen: ArrayLike<number>,
  from: number,
  to: number,
): RunningMisfit {
  const total = to - from;
  const sums = Array.from({ length: 10 }, () => new Float64Array(total + 1));
  const [ones, xs, squares, own] = sums;
  const colours = sums.slice(4, 7);
  const products = sums.slice(7, 10);
  for (let i = 0; i < total; i++) {
    for (const sum of sums) sum[i + 1] = sum[i];
    if (!seen[from + i]) continue;
    const x = i + 0.5;
    ones[i + 1] += 1;
    xs[i + 1] += x;
    squares[i + 1] += x * x;
    for (let c = 0; c < 3; c++) {
      const v = lab[3 * (from + i) + c];
      own[i + 1] += v * v;
      colours[c][i + 1] += v;
      products[c][i + 1] += v * x;
    }
  }
  return ({ lab: middle, run }, start, length, a, b) => {
    const n = ones[b] - ones[a];
    const x = xs[b] - xs[a];
    const xx = squares[b] - squares[a];
    let misfit = own[b] - own[a];
    for (let c = 0; c < 3; c++) {
      // The colour at x is p + q x.
      const q = run[c] / length;
      const p = middle[c] - run[c] / 2 - q * start;
      const v = colours[c][b] - colours[c][a];
      const vx = products[c][b] - products[c][a];
      misfit += -2 * p * v - 2 * q * vx + p * p * n + 2 * p * q * x + q * q * xx;
    }
    return Math.max(0, misfit);
  };
}

/** Columns at either end of a band that are blur, as a part of it. */
const BLURRED = 0.08;

/** What the colour of columns from..to runs by from the one end to the other: the slope of its line of least squares, times the length. */
export function runOver(lab: ArrayLike<number>, from: number, to: number): Lab {
  const a = Math.ceil(from + BLURRED * (to - from));
  const b = Math.floor(to - BLURRED * (to - from));
  const n = b - a;
  if (n < 2) return [0, 0, 0];
  return lineOver(lab, a, n).slope.map((slope) => slope * (to - from)) as unknown as Lab;
}
