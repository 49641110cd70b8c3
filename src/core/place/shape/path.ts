import { UsageError } from '../../base/outcome.js';
import type { Point } from '../../math/matrix3.js';

/**
 * A seam of a copy in its stripe frame (p across the stripes wanted on the piece, q along them; mm), with the length passed
 * at each of its points.
 */
export interface Path {
  readonly pMm: Float64Array;
  readonly qMm: Float64Array;
  readonly passedMm: Float64Array;
  readonly lengthMm: number;
}

/** Throws UsageError for fewer than two points or a path without length. */
export function pathOf(points: readonly Point[]): Path {
  const pMm = Float64Array.from(points, ([p]) => p);
  const qMm = Float64Array.from(points, ([, q]) => q);
  const passedMm = new Float64Array(points.length);
  for (let k = 1; k < points.length; k++)
    passedMm[k] = passedMm[k - 1] + Math.hypot(pMm[k] - pMm[k - 1], qMm[k] - qMm[k - 1]);
  const lengthMm = passedMm[points.length - 1];
  if (!(lengthMm > 0))
    throw new UsageError(
      `expected a line with a length, received ${points.length} points on one place`,
      'seam',
    );
  return { pMm, qMm, passedMm, lengthMm };
}

/** The place at `alongMm` of the path, from its start; beyond its ends, the ends. */
export function placeOn({ pMm, qMm, passedMm }: Path, alongMm: number): Point {
  let k = 1;
  while (k < passedMm.length - 1 && passedMm[k] < alongMm) k++;
  const step = passedMm[k] - passedMm[k - 1];
  const part = step > 0 ? Math.min(1, Math.max(0, (alongMm - passedMm[k - 1]) / step)) : 0;
  return [pMm[k - 1] + part * (pMm[k] - pMm[k - 1]), qMm[k - 1] + part * (qMm[k] - qMm[k - 1])];
}

/** The same line from its other end. */
export function reversedPath({ pMm, qMm, passedMm, lengthMm }: Path): Path {
  return {
    pMm: pMm.slice().reverse(),
    qMm: qMm.slice().reverse(),
    passedMm: Float64Array.from(passedMm, (_, k) => lengthMm - passedMm[passedMm.length - 1 - k]),
    lengthMm,
  };
}
