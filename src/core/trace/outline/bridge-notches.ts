import type { Point } from '../../math/matrix3.js';
import { type Arc, ahead, arcOf, bestCurve, between, nearestT, onCurve } from './arc.js';

/** Marks up to this wide along the edge and deep are no shape, mm; a little more for what blur adds. */
export const MOST_NOTCH_MM = 8;
const MOST_WIDE_MM = 10;
const MOST_DEEP_MM = 9;
/** What leaves the edge by less than this is unevenness of a cut by hand. */
const LEAST_DEEP_MM = 1.4;
/** The edge runs on past a notch as it came, degrees. */
const MOST_TURN_DEG = 14;
/** Stretches of edge either side by which it is told how the edge runs on, mm. */
const ARM_MM = 9;

export interface Bridged {
  /** The line without the notches' own points. */
  readonly points: readonly Point[];
  readonly notches: readonly Point[];
}

/** Takes out of a closed line what is cut into it no wider and deeper than a notch is, where the edge runs on beyond it. */
export function bridgeNotches(points: readonly Point[]): Bridged {
  const arc = arcOf(points);
  const found: { from: number; to: number; at: Point; wide: number; score: number }[] = [];
  const n = points.length;
  const stepMm = arc.total / n;
  for (let i = 0; i < n; i++) {
    for (let k = Math.ceil(3 / stepMm); k * stepMm < 2 * MOST_DEEP_MM + MOST_WIDE_MM; k++) {
      const j = (i + k) % n;
      const wide = Math.hypot(points[j][0] - points[i][0], points[j][1] - points[i][1]);
      if (wide > MOST_WIDE_MM) continue;
      // Its sides are longer than its mouth is wide.
      if (k * stepMm < wide + 2 * LEAST_DEEP_MM - 0.6) continue;
      const notch = judged(arc, i, j, wide);
      if (notch !== null) found.push(notch);
    }
  }
  found.sort((a, b) => b.score - a.score);
  const taken: typeof found = [];
  for (const one of found) {
    const apart = taken.every((other) => !overlaps(arc, one.from, one.to, other.from, other.to));
    if (apart) taken.push(one);
  }
  const dropped = new Set(taken.flatMap(({ from, to }) => between(arc, from, to)));
  return { points: points.filter((_, i) => !dropped.has(i)), notches: taken.map(({ at }) => at) };
}

const overlaps = (arc: Arc, a: number, b: number, c: number, d: number): boolean =>
  ahead(a, c, arc.total) <= ahead(a, b, arc.total) || ahead(c, a, arc.total) <= ahead(c, d, arc.total);

function judged(
  arc: Arc,
  i: number,
  j: number,
  wide: number,
): { from: number; to: number; at: Point; wide: number; score: number } | null {
  const { points, along, total } = arc;
  const [a, b] = [points[i], points[j]];
  // How deep: off the chord of its mouth. Cheap, so first.
  const [cx, cy] = wide > 0.2 ? [(b[0] - a[0]) / wide, (b[1] - a[1]) / wide] : [0, 0];
  let deep = 0;
  for (const k of between(arc, along[i], along[j])) {
    const dx = points[k][0] - a[0];
    const dy = points[k][1] - a[1];
    deep = Math.max(deep, wide > 0.2 ? Math.abs(-dx * cy + dy * cx) : Math.hypot(dx, dy));
  }
  if (deep < LEAST_DEEP_MM || deep > MOST_DEEP_MM) return null;
  const before = bestCurve(
    pick(points, between(arc, along[i] - ARM_MM + total, along[i] - 0.3 + total)),
    ARM_MM,
  );
  const after = bestCurve(pick(points, between(arc, along[j] + 0.3, along[j] + ARM_MM)), ARM_MM);
  if (before === null || after === null || before.rmsMm > 0.35 || after.rmsMm > 0.35) return null;
  const wayIn = onCurve(before, nearestT(before, a)).way;
  const wayOut = onCurve(after, nearestT(after, b)).way;
  if (turnDeg(wayIn, wayOut) > MOST_TURN_DEG) return null;
  // Beyond the mouth the edge runs on in one line: each arm, carried on, meets the other's beginning.
  const missIn = offset(before, b);
  const missOut = offset(after, a);
  if (Math.max(missIn, missOut) > 0.6 + 0.12 * wide) return null;
  return {
    from: along[i],
    to: along[j],
    at: [(a[0] + b[0]) / 2, (a[1] + b[1]) / 2],
    wide,
    // The one whose arms fit best, and which takes in no more of the edge than it must.
    score: -(before.rmsMm + after.rmsMm) - 0.5 * (missIn + missOut) - 0.06 * wide + 0.05 * deep,
  };
}

const pick = (points: readonly Point[], indices: readonly number[]): Point[] => indices.map((i) => points[i]);

function offset(curve: Parameters<typeof onCurve>[0], p: Point): number {
  const { at, way } = onCurve(curve, nearestT(curve, p));
  return Math.abs(-(p[0] - at[0]) * way[1] + (p[1] - at[1]) * way[0]);
}

export const turnDeg = (p: Point, q: Point): number =>
  (Math.abs(Math.atan2(p[0] * q[1] - p[1] * q[0], p[0] * q[0] + p[1] * q[1])) * 180) / Math.PI;
