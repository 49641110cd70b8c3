import type { Point } from '../../math/matrix3.js';

/** A closed line of points with how far along it each lies, mm. */
export interface Arc {
  readonly points: readonly Point[];
  readonly along: Float64Array;
  readonly total: number;
}

export function arcOf(points: readonly Point[]): Arc {
  const along = new Float64Array(points.length);
  let run = 0;
  points.forEach(([x, y], k) => {
    along[k] = run;
    const [nx, ny] = points[(k + 1) % points.length];
    run += Math.hypot(nx - x, ny - y);
  });
  return { points, along, total: run };
}

/** How far b lies ahead of a along a closed line of that length, 0 up to the length. */
export const ahead = (a: number, b: number, total: number): number => (((b - a) % total) + total) % total;

/** Indices of the points whose way along lies from `from` to `to`, going round; in order. */
export function between({ along, total, points }: Arc, from: number, to: number): number[] {
  const span = ahead(from, to, total);
  const start = ((from % total) + total) % total;
  const n = points.length;
  const out: number[] = [];
  for (let k = 0, i = lowerBound(along, start); k < n; k++, i = (i + 1) % n) {
    const on = along[i] - start;
    // Counted on past the line's end.
    if ((on < 0 ? on + total : on) > span) break;
    out.push(i);
  }
  return out;
}

/** The point at or next after a place along the line, which may be counted beyond either end. */
export function placeAt({ along, total, points }: Arc, at: number): Point {
  return points[lowerBound(along, ((at % total) + total) % total)];
}

/** The place so far along the line itself, between its points too; counted on beyond either end. */
export function onArcAt({ points, along, total }: Arc, at: number): Point {
  const wanted = ((at % total) + total) % total;
  const next = lowerBound(along, wanted);
  const last = (next + points.length - 1) % points.length;
  const gap = ahead(along[last], along[next], total);
  const t = gap > 0 ? ahead(along[last], wanted, total) / gap : 0;
  const [[x, y], [u, v]] = [points[last], points[next]];
  return [x + Math.min(1, t) * (u - x), y + Math.min(1, t) * (v - y)];
}

function lowerBound(values: Float64Array, wanted: number): number {
  let low = 0;
  let high = values.length;
  while (low < high) {
    const middle = (low + high) >> 1;
    if (values[middle] < wanted) low = middle + 1;
    else high = middle;
  }
  return low % values.length;
}

/**
 * A flat curve through points by least squares in the frame of their chord: origin, direction, and offsets on powers of the way along; places
 * far from it are left out in a second round.
 */
export interface FlatCurve {
  readonly origin: Point;
  readonly along: Point;
  /** Offset to the left of `along` at t: c0 + c1 t + c2 t^2, mm. */
  readonly c: readonly [number, number, number];
  readonly rmsMm: number;
}

export function flatCurve(points: readonly Point[], bends: boolean): FlatCurve | null {
  if (points.length < 3) return null;
  const origin = points[0];
  const last = points[points.length - 1];
  const length = Math.hypot(last[0] - origin[0], last[1] - origin[1]);
  if (length < 1e-6) return null;
  const along: Point = [(last[0] - origin[0]) / length, (last[1] - origin[1]) / length];
  const rows = points.map(([x, y]) => {
    const dx = x - origin[0];
    const dy = y - origin[1];
    return [dx * along[0] + dy * along[1], -dx * along[1] + dy * along[0]] as const;
  });
  let weights = rows.map(() => 1);
  let c: [number, number, number] = [0, 0, 0];
  let rms = 0;
  for (let round = 0; round < 3; round++) {
    c = weighted(rows, weights, bends && points.length >= 6, length);
    const misses = rows.map(([t, o]) => o - c[0] - c[1] * t - c[2] * t * t);
    rms = Math.sqrt(
      misses.reduce((s, m, k) => s + weights[k] * m * m, 0) /
        Math.max(
          1,
          weights.reduce((s, w) => s + w, 0),
        ),
    );
    const scale = Math.max(0.04, 2 * rms);
    weights = misses.map((m) => 1 / (1 + (m / scale) ** 4));
  }
  return { origin, along, c, rmsMm: rms };
}

/** Straight where that does nearly as well: a bend carried on beyond the points is worth little. */
export function bestCurve(points: readonly Point[], lengthMm: number): FlatCurve | null {
  const straight = flatCurve(points, false);
  if (straight === null || lengthMm < 7) return straight;
  const bent = flatCurve(points, true);
  return bent !== null && bent.rmsMm < 0.75 * straight.rmsMm - 0.005 ? bent : straight;
}

function weighted(
  rows: readonly (readonly [number, number])[],
  weights: readonly number[],
  bends: boolean,
  length: number,
): [number, number, number] {
  const m = new Float64Array(5);
  const r = new Float64Array(3);
  rows.forEach(([t, o], k) => {
    const s = t / length;
    let power = weights[k];
    for (let p = 0; p < 5; p++) {
      m[p] += power;
      if (p < 3) r[p] += power * o;
      power *= s;
    }
  });
  const det2 = m[0] * m[2] - m[1] * m[1];
  if (!bends) return [(r[0] * m[2] - r[1] * m[1]) / det2, (m[0] * r[1] - m[1] * r[0]) / det2 / length, 0];
  const det = (a: number[], b: number[], d: number[]): number =>
    a[0] * (b[1] * d[2] - b[2] * d[1]) -
    a[1] * (b[0] * d[2] - b[2] * d[0]) +
    a[2] * (b[0] * d[1] - b[1] * d[0]);
  const whole = det([m[0], m[1], m[2]], [m[1], m[2], m[3]], [m[2], m[3], m[4]]);
  const c0 = det([r[0], m[1], m[2]], [r[1], m[2], m[3]], [r[2], m[3], m[4]]) / whole;
  const c1 = det([m[0], r[0], m[2]], [m[1], r[1], m[3]], [m[2], r[2], m[4]]) / whole;
  const c2 = det([m[0], m[1], r[0]], [m[1], m[2], r[1]], [m[2], m[3], r[2]]) / whole;
  return [c0, c1 / length, c2 / (length * length)];
}

/** Place and direction of the curve at t, mm along its chord. */
export function onCurve({ origin, along, c }: FlatCurve, t: number): { at: Point; way: Point } {
  const o = c[0] + t * (c[1] + t * c[2]);
  const slope = c[1] + 2 * c[2] * t;
  const at: Point = [origin[0] + t * along[0] - o * along[1], origin[1] + t * along[1] + o * along[0]];
  const size = Math.hypot(1, slope);
  return { at, way: [(along[0] - slope * along[1]) / size, (along[1] + slope * along[0]) / size] };
}

/** How far along its chord the curve's nearest place to a point lies. */
export const nearestT = ({ origin, along }: FlatCurve, [x, y]: Point): number =>
  (x - origin[0]) * along[0] + (y - origin[1]) * along[1];
