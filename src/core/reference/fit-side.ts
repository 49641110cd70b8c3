import { Matrix, solve } from 'ml-matrix';
import type { Point } from '../math/matrix3.js';
import { biweight, robustSd } from '../math/robust.js';
import type { Raster } from '../raster/raster.js';
import { type Station, sideStations, stepPx } from './side-profile.js';

/**
 * One side of a sheet as the picture shows it: a straight line from `from` in the direction (dx, dy), and how far the side
 * lies to the right of it, as seen, at t px along. Curved a little: lenses and paper are.
 */
export interface FittedSide {
  readonly from: Point;
  readonly dx: number;
  readonly dy: number;
  /** o(t) = o[0] + o[1] t + o[2] t^2, px. */
  readonly o: readonly [number, number, number];
  /** Share of the places looked at where an edge lies within a px of the curve. */
  readonly seen: number;
  /** Standard deviation of the curve at its ends, px. */
  readonly endSdPx: number;
}

/**
 * What an edge is worth to the path: it rises with the contrast, but ever less, so that one dark stripe beside the sheet
 * does not outweigh the faint rest of the side. Half of the most at this many levels.
 */
const halfWorthLevels = 30;
/** What a step of half a px from one place to the next costs, against a worth of at most 1. */
const stepCost = 0.06;

/** So many edges are followed beside one supposed side: its own, a stripe's, a shadow's. */
const mostAlternatives = 3;
/** Two edges nearer together than this, px, are one to the eye. */
const leastApartPx = 2;
/** An edge seen along less of the side than this is none. */
const leastSeen = 0.5;

/**
 * The edges that run all along a supposed side of a sheet, each with a parabola through it, strongest first. A stripe close
 * beside the sheet can be stronger than the sheet's own edge, so the choice is left to the caller.
 *
 * @param trim share of the side's length left out at either end.
 * @param reach how far off the side may be, px.
 */
export function fitSides(
  picture: Raster<Uint8Array>,
  from: Point,
  to: Point,
  trim: number,
  reach: number,
): FittedSide[] {
  const length = Math.hypot(to[0] - from[0], to[1] - from[1]);
  const count = Math.max(12, Math.min(240, Math.floor(((1 - 2 * trim) * length) / 5)));
  const stations = sideStations(picture, from, to, trim, count, reach);
  const sides: FittedSide[] = [];
  for (let k = 0; k < mostAlternatives; k++) {
    const path = bestPath(stations);
    const fit = fitAlong(stations, path, length);
    if (fit !== null && fit.seen >= leastSeen) {
      const [dx, dy] = [(to[0] - from[0]) / length, (to[1] - from[1]) / length];
      sides.push({ from, dx, dy, ...fit });
    }
    // The next path keeps clear of this one.
    stations.forEach(({ slopes }, i) => {
      const middle = path[i] / stepPx + (slopes.length - 1) / 2;
      const half = leastApartPx / stepPx;
      slopes.fill(0, Math.max(0, middle - half), Math.max(0, middle + half + 1));
    });
  }
  return sides;
}

function fitAlong(
  stations: readonly Station[],
  path: readonly number[],
  length: number,
): Pick<FittedSide, 'o' | 'seen' | 'endSdPx'> | null {
  let places = stations.map((station, k) => nearest(station, path[k], 1.5));
  let curve = robustParabola(stations, places, length);
  for (let round = 0; round < 2 && curve !== null; round++) {
    const { o } = curve;
    places = stations.map((station) => nearest(station, valueAt(o, station.t), 1.5));
    curve = robustParabola(stations, places, length);
  }
  if (curve === null) return null;
  const { o, sd } = curve;
  const near = stations.filter((station) => nearest(station, valueAt(o, station.t), 1) !== null).length;
  // A parabola through n even places has nine times the mean's variance at its ends.
  return { o, seen: near / stations.length, endSdPx: (3 * sd) / Math.sqrt(Math.max(near, 1)) };
}

export const valueAt = (o: FittedSide['o'], t: number): number => o[0] + t * (o[1] + t * o[2]);

function nearest(station: Station, o: number, within: number): { o: number; contrast: number } | null {
  let best: { o: number; contrast: number } | null = null;
  for (const edge of station.edges) {
    if (Math.abs(edge.o - o) <= within && (best === null || Math.abs(edge.o - o) < Math.abs(best.o - o))) {
      best = edge;
    }
  }
  return best;
}

/** The steepest connected path along the side, by dynamic programming; px from the side at each station. */
function bestPath(stations: readonly Station[]): number[] {
  const states = stations[0].slopes.length;
  const from: Uint16Array[] = [];
  let gain = new Float64Array(states);
  for (const { slopes } of stations) {
    const next = new Float64Array(states);
    const origin = new Uint16Array(states);
    for (let i = 0; i < states; i++) {
      let best = i;
      for (let j = Math.max(0, i - 1); j <= Math.min(states - 1, i + 1); j++) {
        if (gain[j] - (j === i ? 0 : stepCost) > gain[best] - (best === i ? 0 : stepCost)) best = j;
      }
      origin[i] = best;
      next[i] = gain[best] - (best === i ? 0 : stepCost) + slopes[i] / (slopes[i] + halfWorthLevels);
    }
    from.push(origin);
    gain = next;
  }
  let state = gain.reduce((best, v, i) => (v > gain[best] ? i : best), 0);
  const path = new Array<number>(stations.length);
  for (let k = stations.length - 1; k >= 0; k--) {
    path[k] = (state - (states - 1) / 2) * stepPx;
    state = from[k][state];
  }
  return path;
}

/** Parabola through the places that are not null, outliers weighed down; null when too few are left. */
function robustParabola(
  stations: readonly Station[],
  places: readonly ({ o: number; contrast: number } | null)[],
  length: number,
): { o: [number, number, number]; sd: number } | null {
  const ts: number[] = [];
  const os: number[] = [];
  const trust: number[] = [];
  places.forEach((place, k) => {
    if (place === null) return;
    ts.push((2 * stations[k].t) / length - 1);
    os.push(place.o);
    // A faint edge is placed worse, in proportion to the noise over its contrast.
    trust.push(place.contrast ** 2 / (place.contrast ** 2 + 400));
  });
  if (ts.length < 8 || ts.length < 0.3 * stations.length) return null;
  let weights = trust;
  let c = [0, 0, 0];
  let sd = 1;
  for (let round = 0; round < 6; round++) {
    const rows = ts.map((t, i) => {
      const w = Math.sqrt(weights[i]);
      return [w, w * t, w * t * t];
    });
    const right = os.map((o, i) => [Math.sqrt(weights[i]) * o]);
    c = solve(new Matrix(rows), new Matrix(right), true).to1DArray();
    const misses = ts.map((t, i) => os[i] - (c[0] + t * (c[1] + t * c[2])));
    sd = Math.max(0.05, robustSd(misses));
    weights = misses.map((miss, i) => trust[i] * biweight(miss / sd));
  }
  // Back from -1..1 along the side to px.
  const k = 2 / length;
  return { o: [c[0] - c[1] + c[2], k * (c[1] - 2 * c[2]), k * k * c[2]], sd };
}

/** Where two fitted sides cross, starting from a guess of it; px. */
export function sideCrossing(a: FittedSide, b: FittedSide, guess: Point): Point | null {
  let at = guess;
  for (let round = 0; round < 4; round++) {
    const p = tangent(a, at);
    const q = tangent(b, at);
    const det = p.nx * q.ny - p.ny * q.nx;
    if (Math.abs(det) < 1e-6) return null;
    at = [(p.rho * q.ny - q.rho * p.ny) / det, (p.nx * q.rho - q.nx * p.rho) / det];
  }
  return at;
}

/** The straight line that touches a side nearest to a point: nx x + ny y = rho. */
function tangent(side: FittedSide, [x, y]: Point): { nx: number; ny: number; rho: number } {
  const { from, dx, dy, o } = side;
  const t = (x - from[0]) * dx + (y - from[1]) * dy;
  const slope = o[1] + 2 * o[2] * t;
  const value = valueAt(o, t);
  // Right of (dx, dy) is (-dy, dx).
  const tx = dx - slope * dy;
  const ty = dy + slope * dx;
  const px = from[0] + t * dx - value * dy;
  const py = from[1] + t * dy + value * dx;
  return { nx: -ty, ny: tx, rho: -ty * px + tx * py };
}
