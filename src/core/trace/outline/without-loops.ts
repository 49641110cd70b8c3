import type { Point } from '../../math/matrix3.js';

/** More crossings than this are no slip of the tracing. */
const MOST_LOOPS = 40;

/** A closed line that crosses itself nowhere: of every loop the part with fewer points is taken out. */
export function withoutLoops(line: readonly Point[]): Point[] {
  let points = [...line];
  for (let round = 0; round < MOST_LOOPS; round++) {
    const met = firstCrossing(points);
    if (met === null) return points;
    const [i, j, at] = met;
    // Between the two segments that cross lies one part, round the other way the rest.
    const inner = points.slice(i + 1, j + 1);
    const outer = [...points.slice(j + 1), ...points.slice(0, i + 1)];
    points = [...(inner.length < outer.length ? outer : inner), at];
  }
  return points;
}

/** Two segments that cross, by their first points, and where. */
function firstCrossing(points: readonly Point[]): [number, number, Point] | null {
  const n = points.length;
  for (let i = 0; i < n - 2; i++) {
    const [ax, ay] = points[i];
    const [bx, by] = points[i + 1];
    const [left, right] = ax < bx ? [ax, bx] : [bx, ax];
    const [low, high] = ay < by ? [ay, by] : [by, ay];
    for (let j = i + 2; j < n; j++) {
      if (i === 0 && j === n - 1) continue;
      const [cx, cy] = points[j];
      const [dx, dy] = points[(j + 1) % n];
      if ((cx < left && dx < left) || (cx > right && dx > right)) continue;
      if ((cy < low && dy < low) || (cy > high && dy > high)) continue;
      const det = (bx - ax) * (dy - cy) - (by - ay) * (dx - cx);
      if (det === 0) continue;
      const t = ((cx - ax) * (dy - cy) - (cy - ay) * (dx - cx)) / det;
      const s = ((cx - ax) * (by - ay) - (cy - ay) * (bx - ax)) / det;
      if (t >= 0 && t <= 1 && s >= 0 && s <= 1) return [i, j, [ax + t * (bx - ax), ay + t * (by - ay)]];
    }
  }
  return null;
}
