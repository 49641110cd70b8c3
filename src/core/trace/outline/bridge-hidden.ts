import type { Point } from '../../math/matrix3.js';
import { arcOf, between, flatCurve, nearestT, onCurve } from './arc.js';

/** Stretches of line either side by which it is told how the line runs on, and what is left out next to what hides it, mm. */
const ARM_MM = 14;
const CLEAR_MM = 2;
/** Lines that meet at less than this carry on into one another, degrees. */
const CORNER_DEG = 25;

export interface BridgedLine {
  readonly points: readonly Point[];
  /** How much of the line was hidden, mm. */
  readonly hiddenMm: number;
}

/**
 * A closed line that goes round things which lie on it, carried on under them instead: as the line runs before and after, with a corner
 * where the two meet at an angle.
 */
export function bridgeHidden(line: readonly Point[], isHidden: (p: Point) => boolean): BridgedLine {
  const hidden = line.map(isHidden);
  const n = line.length;
  const first = hidden.findIndex((v, i) => v && !hidden[(i + n - 1) % n]);
  if (first < 0) return { points: line, hiddenMm: 0 };
  const arc = arcOf(line);
  const points: Point[] = [];
  let hiddenMm = 0;
  for (let i = 0; i < n; ) {
    const at = (first + i) % n;
    if (!hidden[at]) {
      points.push(line[at]);
      i++;
      continue;
    }
    let count = 0;
    while (count < n && hidden[(at + count) % n]) count++;
    const from = arc.along[at] + arc.total;
    const to = arc.along[(at + count - 1) % n] + arc.total;
    const pick = (a: number, b: number): Point[] => between(arc, a, b).map((k) => line[k]);
    const before = flatCurve(pick(from - ARM_MM, from - CLEAR_MM), false);
    const after = flatCurve(pick(to + CLEAR_MM, to + ARM_MM), false);
    const a = line[(at + n - 1) % n];
    const b = line[(at + count) % n];
    hiddenMm += Math.hypot(b[0] - a[0], b[1] - a[1]);
    if (before !== null && after !== null) {
      const p = onCurve(before, nearestT(before, a));
      const q = onCurve(after, nearestT(after, b));
      points.push(...carriedOn(p.at, p.way, q.at, q.way));
    }
    i += count;
  }
  return { points, hiddenMm };
}

/** From a, running along u, to b, where it runs along v. */
function carriedOn(a: Point, u: Point, b: Point, v: Point): Point[] {
  const cross = u[0] * v[1] - u[1] * v[0];
  const turn = (Math.abs(Math.atan2(cross, u[0] * v[0] + u[1] * v[1])) * 180) / Math.PI;
  const apart = Math.hypot(b[0] - a[0], b[1] - a[1]);
  const steps = Math.max(2, Math.round(apart));
  if (turn > CORNER_DEG) {
    const t = ((b[0] - a[0]) * v[1] - (b[1] - a[1]) * v[0]) / cross;
    const s = ((b[0] - a[0]) * u[1] - (b[1] - a[1]) * u[0]) / cross;
    if (t > 0 && s < 0 && Math.max(t, -s) < 1.5 * apart) {
      const met: Point = [a[0] + t * u[0], a[1] + t * u[1]];
      return [...straight(a, met, steps), ...straight(met, b, steps), b];
    }
  }
  // A cubic with the given directions at its ends (Hermite).
  return Array.from({ length: steps + 1 }, (_, k): Point => {
    const s = k / steps;
    const [h0, h1, h2, h3] = [
      (1 + 2 * s) * (1 - s) ** 2,
      s * (1 - s) ** 2 * apart,
      s * s * (3 - 2 * s),
      s * s * (s - 1) * apart,
    ];
    return [h0 * a[0] + h1 * u[0] + h2 * b[0] + h3 * v[0], h0 * a[1] + h1 * u[1] + h2 * b[1] + h3 * v[1]];
  });
}

const straight = (a: Point, b: Point, steps: number): Point[] =>
  Array.from({ length: steps }, (_, k): Point => {
    const t = k / steps;
    return [a[0] + t * (b[0] - a[0]), a[1] + t * (b[1] - a[1])];
  });
