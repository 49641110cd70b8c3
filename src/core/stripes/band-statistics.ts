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

/** Relative standard deviation of a band's width over printed cloth (common practice). */
const USUAL_UNEVENNESS = 0.01;

/** The unevenness of the cloth as a whole counts as so many instances of each band: two may agree by chance. */
const SHARED_WEIGHT = 3;

/** Relative standard deviation of widths, over all bands that are seen more than once; as usual where none is. */
export function sharedUnevenness(spreads: readonly (Spread | null)[]): number {
  let squares = 0;
  let freedom = 0;
  for (const spread of spreads) {
    if (spread === null || spread.sd === null) continue;
    squares += (spread.count - 1) * (spread.sd / spread.mean) ** 2;
    freedom += spread.count - 1;
  }
  return freedom === 0 ? USUAL_UNEVENNESS : Math.sqrt(squares / freedom);
}

/** Of a mean over instances, `shared` being the unevenness of all bands: few instances say little of their own. */
export function meanSd({ mean, sd, count }: Spread, shared: number): number {
  const own = (count - 1) * (sd ?? 0) ** 2 + SHARED_WEIGHT * (shared * mean) ** 2;
  return Math.sqrt(own / (count - 1 + SHARED_WEIGHT) / count);
}
