import { median } from '../../math/robust.js';
import { sampleBilinear } from '../../raster/sample.js';
import type { TracedOutline } from '../outline/outline-of.js';
import { type FlatSheet, sheetFromPlane } from './flat-sheet.js';

/** A ruler is no wider than this, mm, and so many times as long as wide. */
const MOST_WIDE_MM = 55;
const LEAST_ASPECT = 5;
/** Lines along the strip that are looked at lie so far apart, mm, and samples along them. */
const LINES_MM = 1.5;
const STEP_MM = 0.25;
/** Slow changes of light are taken off over this length, mm. */
const SLOW_MM = 30;
/**
 * Marks at even steps put much of a line's power into one frequency: so many times the median about it. Of noise alone the largest of 500 is 9 times
 * it (of exponential powers: log2 of their number), and writing has no one frequency.
 */
const LEAST_PEAK = 30;
/** Periods that rulers' marks and figures have, mm, whatever the scale is off by. */
const SHORTEST_MM = 0.7;
const LONGEST_MM = 30;
/** So many lines show it. */
const LEAST_LINES = 2;

/** Whether a long straight strip bears marks at even steps: a ruler that could not be read, and no piece of a pattern. */
export function isRulerStrip(sheet: FlatSheet, { outline, corners }: TracedOutline): boolean {
  if (corners.length < 4 || corners.length > 6) return false;
  const ends = farthest(corners.map(({ at }) => at));
  const area = Math.abs(
    outline.reduce((sum, [x, y], k) => {
      const [nx, ny] = outline[(k + 1) % outline.length];
      return sum + x * ny - y * nx;
    }, 0) / 2,
  );
  const wide = area / ends.length;
  if (wide > MOST_WIDE_MM || ends.length < LEAST_ASPECT * wide) return false;
  // The longest side tells the direction better than the diagonal does.
  const { from, way, length } = longestSide(corners.map(({ at }) => at));
  let lines = 0;
  for (const side of [1, -1]) {
    for (let off = LINES_MM; off < wide; off += LINES_MM) {
      const profile = profileAlong(sheet, from, way, length, side * off);
      if (profile !== null && peakOf(profile) > LEAST_PEAK) lines++;
    }
  }
  return lines >= LEAST_LINES;
}

type Place = readonly [number, number];

function farthest(places: readonly Place[]): { length: number } {
  return {
    length: Math.max(...places.flatMap(([x, y]) => places.map(([u, v]) => Math.hypot(u - x, v - y)))),
  };
}

function longestSide(places: readonly Place[]): { from: Place; way: Place; length: number } {
  let best = { from: places[0], way: [1, 0] as Place, length: 0 };
  places.forEach(([x, y], k) => {
    const [u, v] = places[(k + 1) % places.length];
    const length = Math.hypot(u - x, v - y);
    if (length > best.length) best = { from: [x, y], way: [(u - x) / length, (v - y) / length], length };
  });
  return best;
}

/** Luma along a line beside the side, its slow changes taken off; null where it leaves the sheet. */
function profileAlong(
  sheet: FlatSheet,
  from: Place,
  [dx, dy]: Place,
  length: number,
  offMm: number,
): Float32Array | null {
  const count = Math.floor((length - 12) / STEP_MM);
  if (count < 100) return null;
  const values = new Float32Array(count);
  for (let k = 0; k < count; k++) {
    const t = 6 + k * STEP_MM;
    const [x, y] = sheetFromPlane(sheet, [from[0] + t * dx - offMm * dy, from[1] + t * dy + offMm * dx]);
    if (x < 1 || y < 1 || x >= sheet.width - 1 || y >= sheet.height - 1) return null;
    values[k] = sampleBilinear(sheet.luma, sheet.width, sheet.height, x, y);
  }
  const reach = Math.round(SLOW_MM / 2 / STEP_MM);
  return values.map((v, k) => {
    let [sum, n] = [0, 0];
    for (let j = Math.max(0, k - reach); j <= Math.min(count - 1, k + reach); j++, n++) sum += values[j];
    return v - sum / n;
  });
}

/** A wave of half a level, as its power for n samples, n squared times this: what is weaker is coding. */
const LEAST_POWER = 0.25 / 4 / LEAST_PEAK;
/** Frequencies either side that one is compared with: paper is more restless at low ones. */
const NEAR = 16;

/** Greatest power of one frequency over the median of those about it. */
function peakOf(profile: Float32Array): number {
  const n = profile.length;
  const lengthMm = n * STEP_MM;
  const powers: number[] = [];
  for (let m = Math.ceil(lengthMm / LONGEST_MM); m <= lengthMm / SHORTEST_MM; m++) {
    const turn = (2 * Math.PI * m) / n;
    let [re, im] = [0, 0];
    for (let k = 0; k < n; k++) {
      // Hann's window keeps a frequency between two from leaking into all.
      const v = profile[k] * (1 - Math.cos((2 * Math.PI * (k + 0.5)) / n));
      re += v * Math.cos(turn * k);
      im += v * Math.sin(turn * k);
    }
    powers.push(re * re + im * im);
  }
  return Math.max(
    0,
    ...powers.map(
      (v, k) => v / (LEAST_POWER * n * n + median(powers.slice(Math.max(0, k - NEAR), k + NEAR))),
    ),
  );
}
