import type { Point } from '../../math/matrix3.js';
import type { Transform } from '../../place/answer/placement.js';

/** The map that does `first`, then `second`. */
export function composed(second: Transform, first: Transform): Transform {
  const [a, b, c, d, e, f] = second;
  const [p, q, r, s, t, u] = first;
  return [a * p + c * q, b * p + d * q, a * r + c * s, b * r + d * s, a * t + c * u + e, b * t + d * u + f];
}

/** The way back. Nothing is scaled here, so the determinant is 1 or -1. */
export function inverseOf([a, b, c, d, e, f]: Transform): Transform {
  const det = a * d - b * c;
  return [d / det, -b / det, -c / det, a / det, (c * f - d * e) / det, (b * e - a * f) / det];
}

export const imageOf = ([a, b, c, d, e, f]: Transform, [x, y]: Point): Point => [
  a * x + c * y + e,
  b * x + d * y + f,
];

/** Half a turn about a place. */
export const halfTurnAbout = ([x, y]: Point): Transform => [-1, 0, 0, -1, 2 * x, 2 * y];
