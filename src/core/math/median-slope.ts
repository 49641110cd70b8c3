import { median } from './robust.js';

/** Of more points every so many-th is taken, so that pairs stay few. */
const MOST_POINTS = 40;

/** Slopes between all pairs of points that do not stand on one another (Theil 1950, Sen 1968). */
export function pairSlopes(points: readonly { readonly x: number; readonly y: number }[]): number[] {
  const every = Math.max(1, Math.floor(points.length / MOST_POINTS));
  const some = points.filter((_, i) => i % every === 0);
  return some.flatMap((p, i) =>
    some
      .slice(i + 1)
      .filter((q) => q.x !== p.x)
      .map((q) => (q.y - p.y) / (q.x - p.x)),
  );
}

/** The median of them, which a few strays do not turn; 0 without two points apart. */
export function medianSlope(points: readonly { readonly x: number; readonly y: number }[]): number {
  const slopes = pairSlopes(points);
  return slopes.length > 0 ? median(slopes) : 0;
}
