import { biweight, median, robustSd } from '../math/robust.js';
import type { Tick } from './read-ticks.js';

/** Fewer ends of one kind show no slope. */
const FEWEST = 8;
/** Lines along a rule run together by some tenths of a degree over the length of its ticks: standard deviation of the tilt, radians. */
const TILT_SD = 0.18;
const ROUNDS = 6;

/**
 * How the rule's own level runs away from the line that its ticks were read along: change of depth with s, at `depth`. Feet lie on one
 * line and so do the tips of each rank, all of them along the rule, while the line they were found by only passes near them; marks taken
 * on an oblique line would make all ticks seem to lean. Lines along the rule meet far off where it is seen aslant, so their slope may
 * change with depth a little. 0 where ends scatter too much to tell.
 * @param focalPx Of the camera, roughly: how soon lines along a tilted rule meet.
 */
export function levelSlope(
  ticks: readonly Tick[],
  rankOf: (k: number) => number,
  depth: number,
  focalPx: number,
): number {
  const slopes = endsByKind(ticks, rankOf)
    .map(slopeOf)
    .filter((slope) => slope !== null);
  // Weighted least squares of slope = a + b (level - depth), b held near 0.
  let w = 0;
  let wx = 0;
  let wxx = (focalPx / TILT_SD) ** 2;
  let wy = 0;
  let wxy = 0;
  for (const { slope, level, variance } of slopes) {
    const x = level - depth;
    w += 1 / variance;
    wx += x / variance;
    wxx += (x * x) / variance;
    wy += slope / variance;
    wxy += (x * slope) / variance;
  }
  return w === 0 ? 0 : (wy * wxx - wx * wxy) / (w * wxx - wx * wx);
}

interface Ends {
  readonly s: number[];
  readonly depth: number[];
}

/** Feet, and the tips of each rank. */
function endsByKind(ticks: readonly Tick[], rankOf: (k: number) => number): Ends[] {
  const feet: Ends = { s: [], depth: [] };
  const tips = new Map<number, Ends>();
  for (const { k, s, from, to } of ticks) {
    feet.s.push(s);
    feet.depth.push(from);
    const rank = rankOf(k);
    const ends = tips.get(rank) ?? { s: [], depth: [] };
    ends.s.push(s);
    ends.depth.push(to);
    tips.set(rank, ends);
  }
  return [feet, ...tips.values()];
}

/** Robust line through ends of one kind; null for too few. */
function slopeOf({ s, depth }: Ends): { slope: number; level: number; variance: number } | null {
  const n = s.length;
  if (n < FEWEST) return null;
  let slope = 0;
  let level = median(depth);
  let variance = Infinity;
  for (let round = 0; round < ROUNDS; round++) {
    const misses = depth.map((d, i) => d - level - slope * s[i]);
    // Depths are read to a px; no list of them is more even than that.
    const sd = Math.max(0.5, robustSd(misses));
    const middle = median(misses);
    let w = 0;
    let ws = 0;
    let wd = 0;
    const weights = misses.map((miss) => biweight((miss - middle) / sd));
    for (let i = 0; i < n; i++) {
      w += weights[i];
      ws += weights[i] * s[i];
      wd += weights[i] * depth[i];
    }
    let top = 0;
    let low = 0;
    for (let i = 0; i < n; i++) {
      const ds = s[i] - ws / w;
      top += weights[i] * ds * (depth[i] - wd / w);
      low += weights[i] * ds * ds;
    }
    if (low === 0) return null;
    slope = top / low;
    level = wd / w - (slope * ws) / w;
    variance = (sd * sd) / low;
  }
  return { slope, level, variance };
}
