import { linearFromByte } from '../colour/srgb.js';
import type { Point } from '../math/matrix3.js';
import type { Raster } from '../raster/raster.js';

/** What crosses one side of a sheet at one place along it: candidates for where the sheet ends. */
export interface Station {
  /** Along the side, px from its start. */
  readonly t: number;
  /** Where the colour changes, px from the supposed side, and by how many 8-bit levels. */
  readonly edges: readonly { readonly o: number; readonly contrast: number }[];
  /** How steep the colour is at each half px from -reach to +reach, 8-bit levels over 3 px. */
  readonly slopes: Float32Array;
}

/** Profiles are read every half px. */
export const stepPx = 0.5;
/** Colour is compared this far to either side of a place. */
const armPx = 1.5;
/** A change of fewer levels than this is noise. */
const leastLevels = 5;
/** Each profile is the mean of so many parallel ones, 1 px apart: along a straight side that costs no sharpness. */
const strip = 5;

/**
 * Reads `count` profiles across the line from `from` to `to`, away from its ends, reaching `reach` px to either side
 * (positive to the right of the direction as seen).
 */
export function sideStations(
  picture: Raster<Uint8Array>,
  from: Point,
  to: Point,
  trim: number,
  count: number,
  reach: number,
): Station[] {
  const length = Math.hypot(to[0] - from[0], to[1] - from[1]);
  const dx = (to[0] - from[0]) / length;
  const dy = (to[1] - from[1]) / length;
  const half = Math.ceil(reach / stepPx);
  const margin = Math.ceil((armPx + 1) / stepPx);
  const samples = 2 * (half + margin) + 1;
  const profile: Profile = { encoded: new Float32Array(3 * samples), linear: new Float32Array(3 * samples) };
  const stations: Station[] = [];
  for (let k = 0; k < count; k++) {
    const t = (trim + ((1 - 2 * trim) * (k + 0.5)) / count) * length;
    profile.encoded.fill(0);
    profile.linear.fill(0);
    for (let line = 0; line < strip; line++) {
      const along = t + line - (strip - 1) / 2;
      for (let i = 0; i < samples; i++) {
        const o = (i - half - margin) * stepPx;
        addSample(picture, from[0] + along * dx - o * dy, from[1] + along * dy + o * dx, profile, 3 * i);
      }
    }
    for (let i = 0; i < 3 * samples; i++) {
      profile.encoded[i] /= strip;
      profile.linear[i] /= strip;
    }
    stations.push(stationOf(t, profile, half, margin));
  }
  return stations;
}

/**
 * Colours across the side, three values a place. Encoded: a change then counts alike in light and shade. Linear: a lens
 * blurs light itself, and only there is the edge halfway.
 */
interface Profile {
  readonly encoded: Float32Array;
  readonly linear: Float32Array;
}

function stationOf(t: number, { encoded, linear }: Profile, half: number, margin: number): Station {
  const arm = armPx / stepPx;
  const slopes = new Float32Array(2 * half + 1);
  for (let i = 0; i < slopes.length; i++) slopes[i] = change(encoded, i + margin - arm, i + margin + arm);
  const edges: { o: number; contrast: number }[] = [];
  for (let i = 1; i < slopes.length - 1; i++) {
    if (slopes[i] < leastLevels || slopes[i] < slopes[i - 1] || slopes[i] <= slopes[i + 1]) continue;
    const o = midway(linear, i + margin);
    if (o !== null) edges.push({ o: (o - half - margin) * stepPx, contrast: slopes[i] });
  }
  return { t, edges, slopes };
}

const change = (profile: Float32Array, i: number, j: number): number =>
  Math.hypot(
    profile[3 * j] - profile[3 * i],
    profile[3 * j + 1] - profile[3 * i + 1],
    profile[3 * j + 2] - profile[3 * i + 2],
  );

/**
 * Where the profile is halfway, in colour, between what lies 2.5 px before and after a place; in samples. A soft
 * shadow beside the sheet hardly moves it, as it would a centroid over a longer stretch.
 */
function midway(profile: Float32Array, at: number): number | null {
  const arm = Math.round(2.5 / stepPx);
  const i0 = Math.max(at - arm, 0);
  const i1 = Math.min(at + arm, profile.length / 3 - 1);
  const turn = [0, 1, 2].map((c) => profile[3 * i1 + c] - profile[3 * i0 + c]);
  const square = turn[0] ** 2 + turn[1] ** 2 + turn[2] ** 2;
  if (square === 0) return null;
  const share = (i: number): number =>
    turn.reduce((sum, v, c) => sum + v * (profile[3 * i + c] - profile[3 * i0 + c]), 0) / square;
  for (let i = at - 3; i < at + 3; i++) {
    if (i < i0 || i + 1 > i1) continue;
    const before = share(i);
    const after = share(i + 1);
    if (before <= 0.5 && after > 0.5) return i + (0.5 - before) / (after - before);
  }
  return null;
}

function addSample(
  { width, height, channels, data }: Raster<Uint8Array>,
  x: number,
  y: number,
  out: Profile,
  at: number,
): void {
  const fx = Math.min(Math.max(x - 0.5, 0), width - 1.001);
  const fy = Math.min(Math.max(y - 0.5, 0), height - 1.001);
  const ix = fx | 0;
  const iy = fy | 0;
  const ax = fx - ix;
  const ay = fy - iy;
  const nw = (1 - ax) * (1 - ay);
  const ne = ax * (1 - ay);
  const sw = (1 - ax) * ay;
  const se = ax * ay;
  const p = (iy * width + ix) * channels;
  const q = p + width * channels;
  const linear = linearFromByte;
  for (let c = 0; c < 3; c++) {
    const [a, b, d, e] = [data[p + c], data[p + channels + c], data[q + c], data[q + channels + c]];
    out.encoded[at + c] += nw * a + ne * b + sw * d + se * e;
    out.linear[at + c] += nw * linear[a] + ne * linear[b] + sw * linear[d] + se * linear[e];
  }
}
