import type { Raster } from '../raster/raster.js';
import { sampleBilinear } from '../raster/sample.js';

/**
 * A level line with ticks standing on it, in px of the luma picture:
 * point(s) = (x, y) + s * along + bend * s^2 * across, ticks pointing along `tick` (turning slowly with s).
 */
export interface TickLine {
  readonly x: number;
  readonly y: number;
  readonly alongX: number;
  readonly alongY: number;
  /** Angle of the ticks at s = 0 and its change per px of s. */
  readonly tickAngle: number;
  readonly tickTurn: number;
  readonly bend: number;
  readonly fromPx: number;
  readonly toPx: number;
  /** The stretch in which ticks were seen; they may go on beyond it. */
  readonly seen: { readonly fromPx: number; readonly toPx: number };
  /** Ticks lie between these depths (px along the tick from the line) where every tick is present. */
  readonly depthFrom: number;
  readonly depthTo: number;
}

/** Point at (s along the line, d along the tick). */
export function pointOnTick(line: TickLine, s: number, d: number): [number, number] {
  const angle = line.tickAngle + line.tickTurn * s;
  const b = line.bend * s * s;
  return [
    line.x + s * line.alongX - b * line.alongY + d * Math.cos(angle),
    line.y + s * line.alongY + b * line.alongX + d * Math.sin(angle),
  ];
}

/** How strongly ticks show at each sample of s: index i lies at s = fromPx + i * stepPx. */
export interface TickSignal {
  readonly values: Float32Array;
  readonly stepPx: number;
  readonly fromPx: number;
}

/**
 * Mean over the depths of a ridge response: how much darker (sign +1) or lighter (-1) a sample is than both its
 * neighbours at `reachPx`. A step in the cloth seen through a clear ruler gives none.
 */
export function tickSignal(
  luma: Raster<Uint8Array>,
  line: TickLine,
  reachPx: number,
  sign: 1 | -1,
  depths: readonly number[] = depthsBetween(line.depthFrom, line.depthTo),
): TickSignal {
  const stepPx = 0.5;
  const n = Math.max(0, Math.floor((line.toPx - line.fromPx) / stepPx) + 1);
  const values = new Float32Array(n);
  const row = new Float32Array(n);
  const reach = Math.max(2, Math.round(reachPx / stepPx));
  for (const d of depths) {
    sampleRow(luma, line, d, stepPx, row);
    for (let i = reach; i < n - reach; i++) {
      const a = sign * (row[i - reach] - row[i]);
      const b = sign * (row[i + reach] - row[i]);
      const m = a < b ? a : b;
      if (m > 0) values[i] += m / depths.length;
    }
  }
  return { values, stepPx, fromPx: line.fromPx };
}

export function depthsBetween(from: number, to: number, most = 12): number[] {
  const n = Math.max(2, Math.min(most, Math.round(Math.abs(to - from)) + 1));
  return Array.from({ length: n }, (_, i) => from + ((to - from) * i) / (n - 1));
}

/** As pointOnTick, without its trigonometry: ticks turn by hundredths of a radian, where two terms are exact enough. */
function sampleRow(
  { data, width, height }: Raster<Uint8Array>,
  line: TickLine,
  d: number,
  stepPx: number,
  row: Float32Array,
): void {
  const dx = d * Math.cos(line.tickAngle);
  const dy = d * Math.sin(line.tickAngle);
  for (let i = 0; i < row.length; i++) {
    const s = line.fromPx + i * stepPx;
    const turn = line.tickTurn * s;
    const keep = 1 - 0.5 * turn * turn;
    const b = line.bend * s * s;
    const x = line.x + s * line.alongX - b * line.alongY + dx * keep - dy * turn;
    const y = line.y + s * line.alongY + b * line.alongX + dy * keep + dx * turn;
    row[i] = sampleBilinear(data, width, height, x, y);
  }
}

/**
 * Peaks of the signal, as positions s to a fraction of a px (centroid about the peak). A peak counts when it reaches
 * 0.35 of what its neighbourhood usually reaches, so that shade does not hide ticks, and 0.12 of the strongest.
 */
export function tickPeaks(signal: TickSignal, reachPx: number): number[] {
  const { values, stepPx, fromPx } = signal;
  const reach = Math.max(2, Math.round(reachPx / stepPx));
  const maxima: number[] = [];
  for (let i = 1; i < values.length - 1; i++) {
    const v = values[i];
    if (v <= 0.5) continue;
    let isMax = true;
    for (let d = -reach; d <= reach; d++) {
      const w = values[i + d] ?? 0;
      if (w > v || (w === v && d < 0)) {
        isMax = false;
        break;
      }
    }
    if (isMax) maxima.push(i);
  }
  const peaks: number[] = [];
  const heights = Float32Array.from(maxima, (i) => values[i]);
  const sorted = heights.slice().sort();
  const strong = sorted[Math.floor(0.9 * (sorted.length - 1))] ?? 0;
  for (let m = 0; m < maxima.length; m++) {
    const around = heights.slice(Math.max(0, m - 12), m + 13).sort();
    const usual = around[Math.floor(0.7 * (around.length - 1))];
    if (heights[m] < Math.max(0.35 * usual, 0.12 * strong)) continue;
    const i = maxima[m];
    const half = Math.max(2, Math.round(reach * 0.8));
    let sum = 0;
    let moment = 0;
    for (let d = -half; d <= half; d++) {
      // Only what stands above half the height: the foot of the peak is weave and noise.
      const w = Math.max(0, (values[i + d] ?? 0) - 0.3 * heights[m]);
      sum += w;
      moment += w * d;
    }
    peaks.push(fromPx + (i + moment / Math.max(1e-9, sum)) * stepPx);
  }
  return peaks;
}

/**
 * Length of the tick at s: how far it can be followed both ways from the middle of the common depths, px; also where it
 * begins and ends. Gaps up to `gapPx` are bridged: another line may cross the tick, a print's edge show through a clear rule.
 */
export function followTick(
  luma: Raster<Uint8Array>,
  line: TickLine,
  s: number,
  reachPx: number,
  sign: 1 | -1,
  longestPx: number,
  gapPx: number,
): { from: number; to: number } {
  const { depthFrom, depthTo } = line;
  const strengths = new Float64Array(7);
  for (let i = 0; i < 7; i++) {
    strengths[i] = ridgeAt(luma, line, s, depthFrom + ((depthTo - depthFrom) * i) / 6, reachPx, sign);
  }
  const enough = Math.max(1.5, 0.45 * strengths.sort()[3]);
  const middle = (depthFrom + depthTo) / 2;
  const gap = Math.max(gapPx, 0.3 * Math.abs(depthTo - depthFrom));
  let from = middle;
  let to = middle;
  for (let d = middle; middle - d <= longestPx; d--) {
    if (ridgeAt(luma, line, s, d, reachPx, sign) >= enough) from = d;
    else if (from - d > gap) break;
  }
  for (let d = middle; d - middle <= longestPx; d++) {
    if (ridgeAt(luma, line, s, d, reachPx, sign) >= enough) to = d;
    else if (d - to > gap) break;
  }
  return { from, to };
}

/** The strongest ridge within a px of (s, d): how much darker (sign +1) or lighter than both sides at `reachPx`. */
function ridgeAt(
  { data, width, height }: Raster<Uint8Array>,
  line: TickLine,
  s: number,
  d: number,
  reachPx: number,
  sign: 1 | -1,
): number {
  const { alongX, alongY } = line;
  const angle = line.tickAngle + line.tickTurn * s;
  const b = line.bend * s * s;
  const x0 = line.x + s * alongX - b * alongY + d * Math.cos(angle);
  const y0 = line.y + s * alongY + b * alongX + d * Math.sin(angle);
  const rx = reachPx * alongX;
  const ry = reachPx * alongY;
  let best = 0;
  for (let e = -1; e <= 1; e += 0.5) {
    const x = x0 + e * alongX;
    const y = y0 + e * alongY;
    const c = sign * sampleBilinear(data, width, height, x, y);
    const left = sign * sampleBilinear(data, width, height, x - rx, y - ry) - c;
    if (left <= best) continue;
    const right = sign * sampleBilinear(data, width, height, x + rx, y + ry) - c;
    if (right > best) best = left < right ? left : right;
  }
  return best;
}

/**
 * Mean over places of how much darker (sign +1) or lighter they are than both sides at `reachPx`: without regard to where
 * the ridge is strongest, so that noise comes to nothing.
 */
export function meanRidge(
  { data, width, height }: Raster<Uint8Array>,
  line: TickLine,
  places: ArrayLike<number>,
  d: number,
  reachPx: number,
  sign: 1 | -1,
): number {
  const rx = reachPx * line.alongX;
  const ry = reachPx * line.alongY;
  let sum = 0;
  for (let i = 0; i < places.length; i++) {
    const [x, y] = pointOnTick(line, places[i], d);
    const sides =
      sampleBilinear(data, width, height, x - rx, y - ry) +
      sampleBilinear(data, width, height, x + rx, y + ry);
    sum += sides / 2 - sampleBilinear(data, width, height, x, y);
  }
  return (sign * sum) / places.length;
}
