import type { Point } from '../../math/matrix3.js';
import { distanceMm, lineLengthMm, type Outline } from './outline.js';

/** A place on an outline. */
export interface OutlinePlace {
  /** The edge it lies on: from this point to the next. */
  readonly edge: number;
  /** Part of that edge passed, 0 to 1. */
  readonly part: number;
  readonly point: Point;
  /** From the point that was asked for. */
  readonly distanceMm: number;
}

/** The place on an outline nearest to a point. */
export function nearestPlace(outline: Outline, p: Point): OutlinePlace {
  let best: OutlinePlace = { edge: 0, part: 0, point: outline[0], distanceMm: distanceMm(outline[0], p) };
  for (let i = 0; i < outline.length; i++) {
    const a = outline[i];
    const b = outline[(i + 1) % outline.length];
    const [dx, dy] = [b[0] - a[0], b[1] - a[1]];
    const square = dx * dx + dy * dy;
    const raw = square === 0 ? 0 : ((p[0] - a[0]) * dx + (p[1] - a[1]) * dy) / square;
    const part = Math.min(1, Math.max(0, raw));
    const point: Point = [a[0] + part * dx, a[1] + part * dy];
    const away = distanceMm(point, p);
    if (away < best.distanceMm) best = { edge: i, part, point, distanceMm: away };
  }
  return best;
}

/** Two places nearer than this are one, mm. */
const ONE_PLACE_MM = 1e-6;

/** The line from one place of an outline to another in the order in which its points are listed; all of it where both are one place. */
export function partOfOutline(outline: Outline, from: OutlinePlace, to: OutlinePlace): Point[] {
  const n = outline.length;
  const line: Point[] = [from.point];
  const isOne = distanceMm(from.point, to.point) < ONE_PLACE_MM;
  const ahead = to.part > from.part;
  const steps = isOne ? n : (to.edge - from.edge + n) % n || (ahead ? 0 : n);
  for (let k = 1; k <= steps; k++) line.push(outline[(from.edge + k) % n]);
  line.push(to.point);
  return line.filter((p, i) => i === 0 || distanceMm(p, line[i - 1]) > ONE_PLACE_MM);
}

/** Length from the first point of an outline to a place on it, in the order in which its points are listed. */
export function lengthToMm(outline: Outline, place: OutlinePlace): number {
  let length = 0;
  for (let i = 0; i < place.edge; i++) length += distanceMm(outline[i], outline[i + 1]);
  return length + distanceMm(outline[place.edge], place.point);
}

/** The place at a part of a line's length. */
export function pointAlong(line: readonly Point[], part: number): Point {
  let left = part * lineLengthMm(line);
  for (let i = 1; i < line.length; i++) {
    const step = distanceMm(line[i - 1], line[i]);
    if (step >= left && step > 0) {
      const [p, q] = [line[i - 1], line[i]];
      return [p[0] + (left / step) * (q[0] - p[0]), p[1] + (left / step) * (q[1] - p[1])];
    }
    left -= step;
  }
  return line[line.length - 1];
}
