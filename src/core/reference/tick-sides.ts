import type { Raster } from '../raster/raster.js';
import { sampleBilinear } from '../raster/sample.js';
import { combPitchAt } from './comb-fit.js';
import type { TickReading } from './read-ticks.js';
import type { SideMark } from './reference.js';
import { depthsBetween, pointOnTick } from './tick-strip.js';

/** Most ticks used; more add nothing to a direction that is common to all. */
const MOST = 160;

/**
 * Points near the foot and near the tip of the ticks. Ticks stand square on the ruler, so foot and tip lie equally far along it;
 * seen aslant they do not seem to, and by how much tells how the plane is foreshortened in a direction that the
 * spacing of the ticks alone cannot.
 */
export function sideMarks(luma: Raster<Uint8Array>, reading: TickReading): SideMark[] {
  const { comb, hierarchy, ticks } = reading;
  const step = Math.max(1, Math.ceil(ticks.length / MOST));
  const sign = lineSign(luma, reading);
  const marks: SideMark[] = [];
  for (let i = 0; i < ticks.length; i += step) {
    const tick = ticks[i];
    const length = tick.to - tick.from;
    const pitch = Math.abs(combPitchAt(comb, tick.k));
    if (length < 8) continue;
    for (const [low, high] of [
      [0.12, 0.36],
      [0.64, 0.88],
    ]) {
      const depths = depthsBetween(tick.from + low * length, tick.from + high * length, 8);
      const s = middleAcross(luma, reading, tick.s, depths, pitch, sign);
      if (s === null) continue;
      const depth = tick.from + ((low + high) / 2) * length;
      marks.push({ picture: pointOnTick(reading.line, s, depth), alongMm: tick.k * hierarchy.pitchMm });
    }
  }
  return marks;
}

/** +1 for dark ticks, -1 for light ones. */
function lineSign(luma: Raster<Uint8Array>, { line, ticks, comb }: TickReading): 1 | -1 {
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

/** Centre of the tick across its width at the given depths: the centroid of its darkness about `s`; null when faint. */
function middleAcross(
  luma: Raster<Uint8Array>,
  { line }: TickReading,
  s: number,
  depths: readonly number[],
  pitch: number,
  sign: 1 | -1,
): number | null {
  const half = Math.min(6, 0.46 * pitch);
  const n = Math.max(4, Math.round(half / 0.5));
  const profile = new Float64Array(2 * n + 1);
  for (const d of depths) {
    for (let i = -n; i <= n; i++) {
      const [x, y] = pointOnTick(line, s + (i * half) / n, d);
      profile[i + n] += sign * sampleBilinear(luma.data, luma.width, luma.height, x, y);
    }
  }
  // The ground on either side may differ (light, a clear rule over stripes): a straight line between the ends is taken off.
  const a = profile[0];
  const b = profile[2 * n];
  let sum = 0;
  let moment = 0;
  let deepest = 0;
  const dark = profile.map((v, i) => a + ((b - a) * i) / (2 * n) - v);
  for (const v of dark) deepest = Math.max(deepest, v);
  if (deepest < 4 * depths.length) return null;
  for (let i = 0; i <= 2 * n; i++) {
    const w = Math.max(0, dark[i] - 0.3 * deepest);
    sum += w;
    moment += w * (i - n);
  }
  const offset = ((moment / sum) * half) / n;
  return Math.abs(offset) < 0.4 * half ? s + offset : null;
}
