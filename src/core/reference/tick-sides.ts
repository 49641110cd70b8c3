import type { Raster } from '../raster/raster.js';
import { sampleBilinear } from '../raster/sample.js';
import { combPitchAt } from './comb-fit.js';
import type { TickReading } from './read-ticks.js';
import type { SideMark } from './reference.js';
import { pointOnTick } from './tick-strip.js';

/** Most ticks used; more add nothing to a direction that is common to all. */
const MOST = 160;

/** Parts of a tick's length, from its foot on, in which its middle is read. */
const STRETCHES = [
  [0.12, 0.36],
  [0.64, 0.88],
] as const;
/** Shorter ticks tell no direction, px. */
const SHORTEST = 8;

/** Where the middle of a tick was read: its number, place along the line and depth, px. */
export interface SidePlace {
  readonly k: number;
  readonly s: number;
  readonly depth: number;
}

/**
 * Points near the foot and near the tip of the ticks. Ticks stand square on the ruler, so foot and tip lie equally far along it;
 * seen aslant they do not seem to, and by how much tells how the plane is foreshortened in a direction that the
 * spacing of the ticks alone cannot.
 */
export const sideMarks = (luma: Raster<Uint8Array>, reading: TickReading): SideMark[] =>
  sidePlaces(luma, reading).map(({ k, s, depth }) => ({
    picture: pointOnTick(reading.line, s, depth),
    alongMm: k * reading.hierarchy.pitchMm,
  }));

/** Middles of the ticks near their feet and near their tips, where they can be read. */
export function sidePlaces(luma: Raster<Uint8Array>, reading: TickReading): SidePlace[] {
  const { comb, ticks } = reading;
  const step = Math.max(1, Math.ceil(ticks.length / MOST));
  const sign = lineSign(luma, reading);
  const places: SidePlace[] = [];
  for (let i = 0; i < ticks.length; i += step) {
    const { k, s, from, to } = ticks[i];
    const length = to - from;
    if (length < SHORTEST) continue;
    const pitch = Math.abs(combPitchAt(comb, k));
    for (const [low, high] of STRETCHES) {
      const middle = middleAcross(luma, reading, s, from + low * length, from + high * length, pitch, sign);
      if (middle !== null) places.push({ k, s: middle, depth: from + ((low + high) / 2) * length });
    }
  }
  return places;
}

/** +1 for dark ticks, -1 for light ones. */
export function lineSign(luma: Raster<Uint8Array>, { line, ticks, comb }: TickReading): 1 | -1 {
  const depth = (line.depthFrom + line.depthTo) / 2;
  let sum = 0;
  for (const { k, s } of ticks) {
    const gap = 0.5 * Math.abs(combPitchAt(comb, k));
    const at = (t: number): number =>
      sampleBilinear(luma.data, luma.width, luma.height, ...pointOnTick(line, t, depth));
    sum += at(s - gap) + at(s + gap) - 2 * at(s);
  }
  return sum >= 0 ? 1 : -1;
}

/** Centre of the tick across its width between two depths: the centroid of its darkness about `s`; null when faint. */
function middleAcross(
  { data, width, height }: Raster<Uint8Array>,
  { line }: TickReading,
  s: number,
  fromDepth: number,
  toDepth: number,
  pitch: number,
  sign: 1 | -1,
): number | null {
  const half = Math.min(6, 0.46 * pitch);
  const n = Math.max(4, Math.round(half / 0.5));
  const profile = new Float64Array(2 * n + 1);
  const depths = Math.max(2, Math.min(8, Math.round(toDepth - fromDepth) + 1));
  const stepX = (half / n) * line.alongX;
  const stepY = (half / n) * line.alongY;
  for (let m = 0; m < depths; m++) {
    const [x, y] = pointOnTick(line, s, fromDepth + ((toDepth - fromDepth) * m) / (depths - 1));
    for (let i = -n; i <= n; i++) {
      profile[i + n] += sign * sampleBilinear(data, width, height, x + i * stepX, y + i * stepY);
    }
  }
  // The ground on either side may differ (light, a clear rule over stripes): a straight line between the ends is taken off.
  const a = profile[0];
  const b = profile[2 * n];
  let deepest = 0;
  for (let i = 0; i <= 2 * n; i++) {
    profile[i] = a + ((b - a) * i) / (2 * n) - profile[i];
    deepest = Math.max(deepest, profile[i]);
  }
  if (deepest < 4 * depths) return null;
  let sum = 0;
  let moment = 0;
  for (let i = 0; i <= 2 * n; i++) {
    const w = Math.max(0, profile[i] - 0.3 * deepest);
    sum += w;
    moment += w * (i - n);
  }
  const offset = ((moment / sum) * half) / n;
  return Math.abs(offset) < 0.4 * half ? s + offset : null;
}
