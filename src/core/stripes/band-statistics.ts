import { median } from '../math/robust.js';

export interface Spread {
  readonly mean: number;
  /** Sample standard deviation; null with fewer than two values. */
  readonly sd: number | null;
  readonly min: number;
  readonly max: number;
  readonly count: number;
}

/** Mean and spread of all values; NaN for none. */
export function spreadOf(values: readonly number[]): Spread {
  const n = values.length;
  const mean = values.reduce((s, v) => s + v, 0) / n;
  const square = values.reduce((s, v) => s + (v - mean) ** 2, 0);
  return {
    mean,
    sd: n > 1 ? Math.sqrt(square / (n - 1)) : null,
    min: Math.min(...values),
    max: Math.max(...values),
    count: n,
  };
}

/**
 * The same without windows that belie the rest: further from the median than four robust deviations and `slack` (a motif's rim
 * or a wrinkle taken for the edge). Unevenness along the stripe stays in.
 */
export function spreadWithoutStrays(values: readonly number[], slack: number): Spread {
  const seen = values.filter((v) => !Number.isNaN(v));
  if (seen.length < 4) return spreadOf(seen);
  const middle = median(seen);
  const sizes = seen.map((v) => Math.abs(v - middle)).sort((a, b) => a - b);
  const limit = 4 * 1.4826 * sizes[sizes.length >> 1] + slack;
  return spreadOf(seen.filter((v) => Math.abs(v - middle) <= limit));
}
