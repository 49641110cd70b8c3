import { invert3, type Matrix3 } from '../math/matrix3.js';
import { biweight, median, robustSd } from '../math/robust.js';
import type { Tick } from './read-ticks.js';

/** Fewer ends of one kind show neither slope nor bend. */
const FEWEST = 12;
/** Lines along a rule run together by some tenths of a degree over the length of its ticks: standard deviation of the tilt, radians. */
const TILT_SD = 0.18;
const ROUNDS = 6;
/** Depths are read to a px: no list of them is more even than that. */
const LEAST_SD_PX = 0.5;

/** How a rule's own level runs beside the line its ticks were read along: depth = slope (s - middle) + bend (s - middle)^2. */
export interface Level {
  readonly slope: number;
  /** Per px. */
  readonly bend: number;
  /** Scatter of single ends about the level, px; infinite where they tell nothing. */
  readonly sdPx: number;
}

/**
 * The level of a rule at `depth`, from the ends of its ticks. Feet lie on one line and so do the tips of each rank, all of them along the
 * rule, while the line they were found by only passes near them; marks taken on an oblique line would make all ticks seem to lean. Lines
 * along the rule meet far off where it is seen aslant, so their slope may change with depth a little.
 * @param middle Place along the line that slope and bend are counted from, px.
 * @param focalPx Of the camera, roughly: how soon lines along a tilted rule meet.
 */
export function levelOf(
  ticks: readonly Tick[],
  rankOf: (k: number) => number,
  depth: number,
  middle: number,
  focalPx: number,
): Level {
  const lines = endsByKind(ticks, rankOf)
    .map((ends) => lineOf(ends, middle))
    .filter((line) => line !== null);
  if (lines.length === 0) return { slope: 0, bend: 0, sdPx: Infinity };
  // Weighted least squares of slope = a + b (level - depth), b held near 0; the bend is one for all.
  let w = 0;
  let wx = 0;
  let wxx = (focalPx / TILT_SD) ** 2;
  let wy = 0;
  let wxy = 0;
  let bends = 0;
  let bendWeight = 0;
  let endWeight = 0;
  let endCount = 0;
  for (const { slope, level, slopeVariance, bend, bendVariance, sdPx, count } of lines) {
    const x = level - depth;
    w += 1 / slopeVariance;
    wx += x / slopeVariance;
    wxx += (x * x) / slopeVariance;
    wy += slope / slopeVariance;
    wxy += (x * slope) / slopeVariance;
    bends += bend / bendVariance;
    bendWeight += 1 / bendVariance;
    endWeight += count / (sdPx * sdPx);
    endCount += count;
  }
  return {
    slope: (wy * wxx - wx * wxy) / (w * wxx - wx * wx),
    bend: bends / bendWeight,
    sdPx: Math.sqrt(endCount / endWeight),
  };
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

interface EndsLine {
  readonly level: number;
  readonly slope: number;
  readonly bend: number;
  readonly slopeVariance: number;
  readonly bendVariance: number;
  readonly sdPx: number;
  readonly count: number;
}

/** Robust parabola through ends of one kind; null for too few. */
function lineOf({ s, depth }: Ends, middle: number): EndsLine | null {
  const n = s.length;
  if (n < FEWEST) return null;
  const half = Math.max(...s.map((v) => Math.abs(v - middle)));
  if (half === 0) return null;
  const q = s.map((v) => (v - middle) / half);
  let [a, b, c] = [median(depth), 0, 0];
  let sdPx = 0;
  let inverse: Matrix3 | null = null;
  for (let round = 0; round < ROUNDS; round++) {
    const misses = depth.map((d, i) => d - a - b * q[i] - c * q[i] * q[i]);
    const off = median(misses);
    sdPx = Math.max(LEAST_SD_PX, robustSd(misses));
    const m = new Float64Array(5);
    const r = new Float64Array(3);
    for (let i = 0; i < n; i++) {
      let weight = biweight((misses[i] - off) / sdPx);
      for (let p = 0; p < 5; p++) {
        m[p] += weight;
        if (p < 3) r[p] += weight * depth[i];
        weight *= q[i];
      }
    }
    const normal: Matrix3 = [m[0], m[1], m[2], m[1], m[2], m[3], m[2], m[3], m[4] + 1e-9];
    const inv = invert3(normal);
    if (!inv.every(Number.isFinite)) return null;
    inverse = inv;
    a = inv[0] * r[0] + inv[1] * r[1] + inv[2] * r[2];
    b = inv[3] * r[0] + inv[4] * r[1] + inv[5] * r[2];
    c = inv[6] * r[0] + inv[7] * r[1] + inv[8] * r[2];
  }
  if (inverse === null) return null;
  return {
    level: a,
    slope: b / half,
    bend: c / half ** 2,
    slopeVariance: (inverse[4] * sdPx * sdPx) / half ** 2,
    bendVariance: (inverse[8] * sdPx * sdPx) / half ** 4,
    sdPx,
    count: n,
  };
}
