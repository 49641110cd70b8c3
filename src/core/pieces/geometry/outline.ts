import type { Point } from '../../math/matrix3.js';

/** An outline is a list of points, closed from the last to the first; lengths in mm. */
export type Outline = readonly Point[];

/** Positive where the outline runs counter-clockwise (y up), mm2. Gauss's formula about the first point, so that a far place costs no digits. */
export function signedAreaMm2(outline: Outline): number {
  if (outline.length === 0) return 0;
  const [x0, y0] = outline[0];
  let twice = 0;
  for (let i = 1; i + 1 < outline.length; i++) {
    twice +=
      (outline[i][0] - x0) * (outline[i + 1][1] - y0) - (outline[i + 1][0] - x0) * (outline[i][1] - y0);
  }
  return twice / 2;
}

export const areaMm2 = (outline: Outline): number => Math.abs(signedAreaMm2(outline));

export const distanceMm = (p: Point, q: Point): number => Math.hypot(q[0] - p[0], q[1] - p[1]);

/** Length of a line from its first point to its last. */
export function lineLengthMm(line: readonly Point[]): number {
  let length = 0;
  for (let i = 1; i < line.length; i++) length += distanceMm(line[i - 1], line[i]);
  return length;
}

/** Length all round. */
export const perimeterMm = (outline: Outline): number =>
  outline.length === 0 ? 0 : lineLengthMm(outline) + distanceMm(outline[outline.length - 1], outline[0]);

export interface Extent {
  readonly left: number;
  readonly right: number;
  readonly bottom: number;
  readonly top: number;
}

/** The upright box about points, y up. */
export function extentOf(points: readonly Point[]): Extent {
  const extent = { left: Infinity, right: -Infinity, bottom: Infinity, top: -Infinity };
  for (const [x, y] of points) {
    if (x < extent.left) extent.left = x;
    if (x > extent.right) extent.right = x;
    if (y < extent.bottom) extent.bottom = y;
    if (y > extent.top) extent.top = y;
  }
  return extent;
}

/** The image of a point in the mirror line through a and b. */
export function mirroredAbout(p: Point, a: Point, b: Point): Point {
  const [dx, dy] = [b[0] - a[0], b[1] - a[1]];
  const t = ((p[0] - a[0]) * dx + (p[1] - a[1]) * dy) / (dx * dx + dy * dy);
  return [2 * (a[0] + t * dx) - p[0], 2 * (a[1] + t * dy) - p[1]];
}

/** Distance of a point from the endless line through a and b, positive to the left of the way from a to b. */
export const sideOfLineMm = (p: Point, a: Point, b: Point): number =>
  ((b[0] - a[0]) * (p[1] - a[1]) - (b[1] - a[1]) * (p[0] - a[0])) / distanceMm(a, b);
