import type { Point } from '../../math/matrix3.js';
import { median } from '../../math/robust.js';
import type { Raster } from '../../raster/raster.js';
import { evenly, linearAt, smoothed } from './edge-samples.js';

/** A place on the paper's edge, picture px, and how much of the step from ground to paper happens within a few px there, about 0 to 1. */
export interface EdgePlace {
  readonly at: Point;
  readonly sharpness: number;
}

/** Places along the line are so far apart, px. */
const STEP_PX = 2;
/** Samples along each normal, per px. */
const PER_PX = 2;
/** Either side of a place on the normal whose difference is the slope there, px: a sharp photo's edge is about as wide. */
const ARM_PX = 1.5;
/** Lines side by side whose mean is a profile, px apart. */
const ASIDE_PX = [-1.5, 0, 1.5];
/** What a profile's neighbour one px further in or out costs, of a full step. */
const BEND_COST = 0.12;

/**
 * Follows the paper's edge at full size along a rough closed line: the steepest way from ground to paper on each normal, all of them together
 * so that neighbours agree (dynamic programming), then each to a fraction of a px. Shadows are wide and soft; the edge is the sharp step.
 *
 * @param rough closed, inside on its right (clockwise on the screen), picture px
 * @param reachPx how far off it may be
 * @param blocked 1 where something lies that is neither paper nor ground, size of the picture: beyond it the ground counts as going on
 */
export function followEdge(
  picture: Raster<Uint8Array>,
  rough: readonly Point[],
  reachPx: number,
  blocked: Uint8Array | null = null,
): EdgePlace[] {
  const merits: Merits = (colours, n, half) => slopesOf(sharesOf(colours, n, half), n, 2 * half + 1);
  const first = follow(picture, rough, reachPx, merits, blocked);
  return follow(picture, placesOf(first), CLOSE_PX, merits, blocked);
}

/** At the second look the line is this near, px: its normals are then those of the edge up to a mm or two from a corner. */
const CLOSE_PX = 5;

const placesOf = (edge: readonly EdgePlace[]): Point[] => edge.map(({ at }) => at);

/**
 * Follows a thin dark line drawn along a rough closed one: the middle of what is darker than the paper `sidePx` to both sides. `isHidden`:
 * whether something lies over the line there, picture px.
 */
export function followStroke(
  picture: Raster<Uint8Array>,
  rough: readonly Point[],
  reachPx: number,
  sidePx: number,
  isHidden: (p: Point) => boolean,
): EdgePlace[] {
  const merits: Merits = (colours, n, half, line) => {
    const samples = 2 * half + 1;
    const drops = dropsOf(colours, n, samples, Math.max(2, Math.round(sidePx * PER_PX)));
    // Where something hides the line its own edges and marks are none: there the way runs straight on.
    for (let i = 0; i < n; i++) if (isHidden(line[i])) drops.fill(0, i * samples, (i + 1) * samples);
    return drops;
  };
  const first = follow(picture, rough, reachPx, merits);
  return follow(picture, placesOf(first), Math.max(CLOSE_PX, 1.8 * sidePx), merits);
}

/** How well the line sought would lie at each sample of each normal, 0 to about 1. */
type Merits = (colours: Float32Array, n: number, half: number, line: readonly Point[]) => Float32Array;

function follow(
  picture: Raster<Uint8Array>,
  rough: readonly Point[],
  reachPx: number,
  meritsOf: Merits,
  blocked: Uint8Array | null = null,
): EdgePlace[] {
  const line = smoothed(evenly(rough, STEP_PX), (0.6 * reachPx) / STEP_PX);
  const n = line.length;
  const half = Math.round(reachPx * PER_PX);
  const samples = 2 * half + 1;
  const normals = line.map((_, i) => outwardAt(line, i));
  const colours = coloursAcross(picture, line, normals, half);
  if (blocked !== null) goOnBehind(colours, picture, line, normals, half, blocked);
  const merits = meritsOf(colours, n, half, line);
  const chosen = smoothestWay(merits, n, samples);
  return line.map(([x, y], i) => {
    const t = (middleOfSlope(merits, i * samples, chosen[i], samples) - half) / PER_PX;
    const [nx, ny] = normals[i];
    return { at: [x + t * nx, y + t * ny], sharpness: merits[i * samples + chosen[i]] };
  });
}

function outwardAt(line: readonly Point[], i: number): Point {
  const n = line.length;
  const [ax, ay] = line[(i + n - 2) % n];
  const [bx, by] = line[(i + 2) % n];
  const length = Math.hypot(bx - ax, by - ay) || 1;
  // Inside on the right: out is to the left of the way ahead, on the screen.
  return [(by - ay) / length, -(bx - ax) / length];
}

/** Linear colours of the samples on each normal, which run outwards. */
function coloursAcross(
  picture: Raster<Uint8Array>,
  line: readonly Point[],
  normals: readonly Point[],
  half: number,
): Float32Array {
  const n = line.length;
  const samples = 2 * half + 1;
  const colours = new Float32Array(3 * n * samples);
  const out = new Float64Array(3);
  for (let i = 0; i < n; i++) {
    const [nx, ny] = normals[i];
    for (let k = 0; k < samples; k++) {
      const t = (k - half) / PER_PX;
      for (const aside of ASIDE_PX) {
        linearAt(picture, line[i][0] + t * nx - aside * ny, line[i][1] + t * ny + aside * nx, out);
        for (let c = 0; c < 3; c++) colours[3 * (i * samples + k) + c] += out[c] / ASIDE_PX.length;
      }
    }
  }
  return colours;
}

/** What is hidden along a normal is taken to look as the ground does where it is seen: there the paper ends, as far as can be told. */
function goOnBehind(
  colours: Float32Array,
  { width, height }: Raster<Uint8Array>,
  line: readonly Point[],
  normals: readonly Point[],
  half: number,
  blocked: Uint8Array,
): void {
  const samples = 2 * half + 1;
  const isBlocked = (i: number, k: number): boolean => {
    const t = (k - half) / PER_PX;
    const x = Math.floor(line[i][0] + t * normals[i][0]);
    const y = Math.floor(line[i][1] + t * normals[i][1]);
    return x >= 0 && y >= 0 && x < width && y < height && blocked[y * width + x] === 1;
  };
  const hidden: number[] = [];
  const seen: number[] = [];
  for (let i = 0; i < line.length; i++) {
    for (let k = 1; k < samples; k++) if (isBlocked(i, k)) hidden.push(3 * (i * samples + k));
    if (!isBlocked(i, samples - 1)) seen.push(3 * (i * samples + samples - 1));
  }
  if (hidden.length === 0 || seen.length === 0) return;
  const ground = [0, 1, 2].map((c) => median(seen.map((at) => colours[at + c])));
  for (const at of hidden) for (let c = 0; c < 3; c++) colours[at + c] = ground[c];
}

/** How much of the paper's colour each place on a normal has, 1 far inside and 0 far outside. */
function sharesOf(colours: Float32Array, n: number, half: number): Float32Array {
  const samples = 2 * half + 1;
  const shares = new Float32Array(n * samples);
  // Both sides' colours from the ends of the normals, over a stretch of the line.
  const ends = Math.max(2, Math.round(half / 4));
  const sides = [0, 1].map((side) => {
    const own = new Float64Array(3 * n);
    for (let i = 0; i < n; i++) {
      for (let k = 0; k < ends; k++) {
        const at = 3 * (i * samples + (side === 0 ? k : samples - 1 - k));
        for (let c = 0; c < 3; c++) own[3 * i + c] += colours[at + c] / ends;
      }
    }
    return alongMeans(own, n, 8);
  });
  for (let i = 0; i < n; i++) {
    const v = [0, 1, 2].map((c) => sides[0][3 * i + c] - sides[1][3 * i + c]);
    const size = v[0] ** 2 + v[1] ** 2 + v[2] ** 2 + 1e-5;
    for (let k = 0; k < samples; k++) {
      let dot = 0;
      for (let c = 0; c < 3; c++) dot += (colours[3 * (i * samples + k) + c] - sides[1][3 * i + c]) * v[c];
      shares[i * samples + k] = dot / size;
    }
  }
  return shares;
}

/** How far each sample's light falls below that to both sides of it, 1 for a usual stroke. */
function dropsOf(colours: Float32Array, n: number, samples: number, side: number): Float32Array {
  const light = (at: number): number => colours[3 * at] + colours[3 * at + 1] + colours[3 * at + 2];
  const drops = new Float32Array(n * samples);
  const most = new Float32Array(n);
  for (let i = 0; i < n; i++) {
    for (let k = side; k < samples - side; k++) {
      const at = i * samples + k;
      const drop = Math.min(light(at - side), light(at + side)) - light(at);
      drops[at] = drop;
      if (drop > most[i]) most[i] = drop;
    }
  }
  const usual = Math.max(1e-3, median(most));
  for (let k = 0; k < drops.length; k++) drops[k] /= usual;
  return drops;
}

function alongMeans(values: Float64Array, n: number, reach: number): Float64Array {
  const out = new Float64Array(values.length);
  for (let i = 0; i < n; i++) {
    for (let k = -reach; k <= reach; k++) {
      const j = (((i + k) % n) + n) % n;
      for (let c = 0; c < 3; c++) out[3 * i + c] += values[3 * j + c] / (2 * reach + 1);
    }
  }
  return out;
}

/** Fall of each profile over 2 ARM_PX about each sample. */
function slopesOf(profiles: Float32Array, n: number, samples: number): Float32Array {
  const arm = Math.round(ARM_PX * PER_PX);
  const slopes = new Float32Array(n * samples);
  for (let i = 0; i < n; i++) {
    for (let k = arm; k < samples - arm; k++) {
      slopes[i * samples + k] = profiles[i * samples + k - arm] - profiles[i * samples + k + arm];
    }
  }
  return slopes;
}

/** One sample of each profile, so that the sum of slopes less what bends cost is greatest. The way round is closed by going round twice. */
function smoothestWay(slopes: Float32Array, n: number, samples: number): Int32Array {
  const steps = 2;
  const total = n + Math.min(n, 2 * samples);
  const from = new Int8Array(total * samples);
  let gain = new Float32Array(samples);
  let next = new Float32Array(samples);
  for (let j = 0; j < total; j++) {
    const at = (j % n) * samples;
    for (let k = 0; k < samples; k++) {
      let best = Number.NEGATIVE_INFINITY;
      let came = 0;
      for (let d = -steps; d <= steps; d++) {
        if (k + d < 0 || k + d >= samples) continue;
        const v = gain[k + d] - BEND_COST * (d / PER_PX) ** 2;
        if (v > best) {
          best = v;
          came = d;
        }
      }
      const slope = slopes[at + k];
      next[k] = best + (slope > 1.2 ? 1.2 : slope < -0.3 ? -0.3 : slope);
      from[j * samples + k] = came;
    }
    [gain, next] = [next, gain];
  }
  let k = 0;
  for (let q = 1; q < samples; q++) if (gain[q] > gain[k]) k = q;
  const chosen = new Int32Array(n);
  for (let j = total - 1; j >= 0; j--) {
    // The second time round wins: it was not free at its start.
    if (j >= total - n) chosen[j % n] = k;
    k += from[j * samples + k];
  }
  return chosen;
}

/** Centre of the slope about its peak, samples. */
function middleOfSlope(slopes: Float32Array, start: number, peak: number, samples: number): number {
  let sum = 0;
  let moment = 0;
  for (let k = Math.max(0, peak - 4); k <= Math.min(samples - 1, peak + 4); k++) {
    const weight = Math.max(0, slopes[start + k]);
    sum += weight;
    moment += weight * k;
  }
  return sum > 0 ? moment / sum : peak;
}
