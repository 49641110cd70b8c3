import type { Point } from '../../math/matrix3.js';
import type { Outline } from './outline.js';

/**
 * A place at which an outline crosses or touches itself, or turns back on itself; null where it is simple. Edges are swept from left to
 * right, so that only those side by side are compared.
 */
export function selfCrossing(outline: Outline): Point | null {
  const n = outline.length;
  const spike = outline.find((p, i) => turnsBack(outline[(i + n - 1) % n], p, outline[(i + 1) % n]));
  if (spike !== undefined) return spike;
  const edges = outline.map((p, i) => {
    const q = outline[(i + 1) % n];
    return { index: i, p, q, left: Math.min(p[0], q[0]), right: Math.max(p[0], q[0]) };
  });
  edges.sort((a, b) => a.left - b.left);
  let open: typeof edges = [];
  for (const edge of edges) {
    open = open.filter((other) => other.right >= edge.left);
    for (const other of open) {
      const apart = Math.abs(other.index - edge.index);
      if (apart === 1 || apart === n - 1) continue;
      const place = meetingPlace(edge.p, edge.q, other.p, other.q);
      if (place !== null) return place;
    }
    open.push(edge);
  }
  return null;
}

const cross = (o: Point, p: Point, q: Point): number =>
  (p[0] - o[0]) * (q[1] - o[1]) - (p[1] - o[1]) * (q[0] - o[0]);

const turnsBack = (before: Point, p: Point, after: Point): boolean =>
  cross(before, p, after) === 0 &&
  (p[0] - before[0]) * (after[0] - p[0]) + (p[1] - before[1]) * (after[1] - p[1]) < 0;

/** Where two edges have a point in common, ends counted. */
function meetingPlace(p: Point, q: Point, r: Point, s: Point): Point | null {
  const [d1, d2] = [cross(r, s, p), cross(r, s, q)];
  const [d3, d4] = [cross(p, q, r), cross(p, q, s)];
  if (((d1 > 0 && d2 < 0) || (d1 < 0 && d2 > 0)) && ((d3 > 0 && d4 < 0) || (d3 < 0 && d4 > 0))) {
    const t = d1 / (d1 - d2);
    return [p[0] + t * (q[0] - p[0]), p[1] + t * (q[1] - p[1])];
  }
  if (d1 === 0 && within(p, r, s)) return p;
  if (d2 === 0 && within(q, r, s)) return q;
  if (d3 === 0 && within(r, p, q)) return r;
  if (d4 === 0 && within(s, p, q)) return s;
  return null;
}

/** Of a point on the line through a and b: whether it lies between them. */
const within = (p: Point, a: Point, b: Point): boolean =>
  p[0] >= Math.min(a[0], b[0]) &&
  p[0] <= Math.max(a[0], b[0]) &&
  p[1] >= Math.min(a[1], b[1]) &&
  p[1] <= Math.max(a[1], b[1]);
