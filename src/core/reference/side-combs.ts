import { powerSpectrum } from '../math/power-spectrum.js';
import type { Raster } from '../raster/raster.js';
import { sampleBilinear } from '../raster/sample.js';
import type { EdgeLine } from './edge-lines.js';

/** Even marks beside a long straight edge, as their common wave shows them. Picture px. */
export interface SideComb {
  /** A point of the edge, the unit vector along it, and the one square to it towards the marks. */
  readonly x: number;
  readonly y: number;
  readonly alongX: number;
  readonly alongY: number;
  readonly inX: number;
  readonly inY: number;
  /** The edge runs from 0 to here. */
  readonly lengthPx: number;
  /** Depth at which the wave is strongest. */
  readonly depthPx: number;
  /** From mark to mark at the middle of the edge, and the part by which it grows from one end to the other. */
  readonly pitchPx: number;
  readonly growth: number;
  /** Share of what varies along the edge that is this wave, 0..1. */
  readonly strength: number;
}

const WINDOW = 256;
/** Windows along the edge, evenly spread. */
const MOST_WINDOWS = 8;
/** Strips beside the edge, and their depth, px: ticks a little aslant stay sharp over so many. */
const STRIPS = 6;
const STRIP_PX = 5;
/** Waves from 2 px on, the finest a picture shows, to as long as a window has nine of. */
const FIRST_BIN = 9;
const GROWTHS = Array.from({ length: 21 }, (_, i) => (i - 10) * 0.03);
/** Light's own course along the edge is taken off over so many px to either side; a glare or stripe is no mark. */
const SMOOTH_PX = 24;
const MOST_OFF = 40;
const FAINTEST_SD = 0.25;

/**
 * Looks for waves along both sides of straight edges: a ruler's marks are even over its whole length, so their wave stands out where each
 * mark alone drowns in noise, is worn, or is but two px from the next.
 *
 * @param lines In a copy of the picture, `shrink` picture px to one of its own.
 * @returns The strongest first.
 */
export function sideCombs(
  luma: Raster<Uint8Array>,
  lines: readonly EdgeLine[],
  shrink: number,
  leastPx: number,
): SideComb[] {
  const found: SideComb[] = [];
  for (const line of lines) {
    const [from, to] = extentOf(line);
    if ((to - from) * shrink < leastPx) continue;
    for (const side of [1, -1]) {
      const comb = strongestWave(luma, {
        x: (line.nx * line.rho + line.dx * from) * shrink,
        y: (line.ny * line.rho + line.dy * from) * shrink,
        alongX: line.dx,
        alongY: line.dy,
        inX: side * line.nx,
        inY: side * line.ny,
        lengthPx: (to - from) * shrink,
      });
      if (comb !== null) found.push(comb);
    }
  }
  return found.sort((a, b) => b.strength - a.strength);
}

/** First and last place with an edge. */
function extentOf({ covered, fromT }: EdgeLine): [number, number] {
  const last = covered[covered.length - 1];
  let from = 0;
  while (from < covered.length - 1 && covered[from + 1] === 0) from++;
  let to = covered.length - 1;
  while (to > 0 && covered[to - 1] === last) to--;
  return [fromT + from, fromT + to];
}

type Edge = Pick<SideComb, 'x' | 'y' | 'alongX' | 'alongY' | 'inX' | 'inY' | 'lengthPx'>;

function strongestWave(luma: Raster<Uint8Array>, edge: Edge): SideComb | null {
  const windows = Math.min(MOST_WINDOWS, Math.floor(edge.lengthPx / (WINDOW / 2)) - 1);
  if (windows < 2) return null;
  const step = (edge.lengthPx - WINDOW) / (windows - 1);
  // powers[strip][window]: share of the variation at each frequency.
  const powers = Array.from({ length: STRIPS }, (_, strip) => {
    const profile = evenProfile(luma, edge, 0, Math.floor(edge.lengthPx), strip * STRIP_PX + 1, STRIP_PX);
    return Array.from({ length: windows }, (_, w) => sharesOf(profile, Math.floor(w * step)));
  });
  let best = { strength: 0, bin: 0, growth: 0, strip: 0 };
  for (let strip = 0; strip < STRIPS; strip++) {
    for (let bin = FIRST_BIN; bin < WINDOW / 2; bin++) {
      for (const growth of GROWTHS) {
        let sum = 0;
        for (let w = 0; w < windows; w++) {
          const own = Math.round(bin * (1 - growth * (w / (windows - 1) - 0.5)));
          sum += powers[strip][w][own] ?? 0;
        }
        const strength = sum / windows;
        if (strength > best.strength) best = { strength, bin, growth, strip };
      }
    }
  }
  if (best.bin === 0) return null;
  return {
    ...edge,
    depthPx: (best.strip + 0.5) * STRIP_PX + 1,
    pitchPx: WINDOW / best.bin,
    growth: best.growth,
    strength: best.strength,
  };
}

/** Mean luma over some depth, from s on along the edge, px by px, without what changes slowly. */
export function evenProfile(
  { data, width, height }: Raster<Uint8Array>,
  { x, y, alongX, alongY, inX, inY }: Edge,
  from: number,
  count: number,
  depthPx: number,
  strips: number,
): Float32Array {
  const raw = new Float32Array(count);
  for (let d = 0; d < strips; d++) {
    const x0 = x + from * alongX + (depthPx + d) * inX;
    const y0 = y + from * alongY + (depthPx + d) * inY;
    for (let s = 0; s < count; s++) {
      raw[s] += sampleBilinear(data, width, height, x0 + s * alongX, y0 + s * alongY) / strips;
    }
  }
  const before = new Float64Array(count + 1);
  for (let s = 0; s < count; s++) before[s + 1] = before[s] + raw[s];
  return raw.map((value, s) => {
    const a = Math.max(0, s - SMOOTH_PX);
    const b = Math.min(count, s + SMOOTH_PX + 1);
    const off = value - (before[b] - before[a]) / (b - a);
    return Math.max(-MOST_OFF, Math.min(MOST_OFF, off));
  });
}

const HANN = Float64Array.from(
  { length: WINDOW },
  (_, i) => 0.5 - 0.5 * Math.cos((2 * Math.PI * (i + 0.5)) / WINDOW),
);

/** Share of a window's variation that each frequency holds; 1 for a pure wave. */
function sharesOf(profile: Float32Array, from: number): Float64Array {
  const signal = new Float64Array(WINDOW);
  let all = 0;
  for (let i = 0; i < WINDOW; i++) {
    const v = profile[from + i] * HANN[i];
    signal[i] = v;
    all += v * v;
  }
  // Of a pure wave under this window, the whole of this.
  const whole = (WINDOW * (all + WINDOW * FAINTEST_SD ** 2)) / 3;
  return powerSpectrum(signal).map((power) => power / whole);
}
