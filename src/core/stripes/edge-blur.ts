import { median } from '../math/robust.js';

/** An edge this much gentler than the steepest is left aside. */
const STEEP = 0.25;

/** A pixel's own width spreads a sharp edge by this much (the standard deviation of a box of width 1). */
const PIXEL_SIGMA = Math.sqrt(1 / 12);
/** An edge ends where the slope has fallen to this share of its greatest. */
const FOOT = 0.08;
/** Smaller steps than this, linear light, are left to larger ones. */
const LEAST_STEP = 0.02;
/** A slope longer than this to either side, columns, is the light's and no edge's. */
const LONGEST = 24;

/**
 * Blur of the edges in a profile, as the sigma of a Gaussian in columns: a step of height h blurred so has the greatest slope
 * h / (sigma sqrt(2 pi)). Each edge is followed from its steepest place to its foot on either side, so nothing need be
 * known of the bands. Median over the steeper half of the edges; 0.8 where there is none.
 *
 * @param linear 3 values a column, linear light. Columns from..to (half open).
 */
export function edgeBlur(linear: ArrayLike<number>, from: number, to: number): number {
  // Slope at the border of columns x and x + 1, over four columns so that noise does not steepen it.
  const slopeAt = (x: number, c: number): number =>
    (linear[3 * (x + 2) + c] + linear[3 * (x + 1) + c] - linear[3 * x + c] - linear[3 * (x - 1) + c]) / 4;
  const size = (x: number): number => Math.hypot(slopeAt(x, 0), slopeAt(x, 1), slopeAt(x, 2));
  const edges: { peak: number; sigma: number }[] = [];
  for (let x = from + 2; x + 4 < to; x++) {
    const peak = size(x);
    if (peak < LEAST_STEP / 8 || peak < size(x - 1) || peak <= size(x + 1)) continue;
    const axis = [0, 1, 2].map((c) => slopeAt(x, c) / peak);
    const along = (at: number): number => axis.reduce((sum, a, c) => sum + a * slopeAt(at, c), 0);
    let left = x;
    while (left - 1 > from && x - left <= LONGEST && along(left - 1) > FOOT * peak) left--;
    let right = x;
    while (right + 3 < to && right - x <= LONGEST && along(right + 1) > FOOT * peak) right++;
    const step = axis.reduce(
      (sum, a, c) => sum + a * (linear[3 * (right + 1) + c] - linear[3 * left + c]),
      0,
    );
    if (right - left > 2 * LONGEST || step < LEAST_STEP) continue;
    edges.push({ peak, sigma: sigmaOfSlope(peak / step) });
  }
  if (edges.length === 0) return 0.8;
  edges.sort((p, q) => q.peak - p.peak);
  // A shaded band has slopes of its own, far gentler than an edge; a few strong scratches must not set the measure.
  const usual = edges[Math.min(3, edges.length - 1)].peak;
  const steep = edges.slice(0, Math.max(4, edges.length >> 1)).filter((e) => e.peak > STEEP * usual);
  return median(steep.map((e) => e.sigma));
}

/** The four columns' weights spread an edge by the variance 2/3; that is taken off. */
function sigmaOfSlope(slope: number): number {
  const spread = 1 / (slope * Math.sqrt(2 * Math.PI));
  return Math.sqrt(Math.max(PIXEL_SIGMA ** 2, spread * spread - 2 / 3));
}
