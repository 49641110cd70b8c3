import { boxMean } from '../math/periodic-steps.js';
import { type ClothPattern, stepsOfPattern } from '../model/cloth-pattern.js';
import type { HalfOnCloth } from '../model/half-on-cloth.js';

/** Part of a half's area that shows one colour. */
export interface ColourShare {
  /** Id of the colour in the model. */
  readonly colourId: string;
  /** Part of the half's area, 0 .. 1. */
  readonly share: number;
}

/**
 * Exact colour shares of a rectangle of one half, `widthMm` out from the seam and `heightMm` down from its
 * top, in the order in which the colours first appear in the repeat. side: which side of the seam it is on.
 */
export function colourShares(
  pattern: ClothPattern,
  half: HalfOnCloth,
  side: 'left' | 'right',
  widthMm: number,
  heightMm: number,
): ColourShare[] {
  const ids = [...new Set(pattern.bands.map((band) => band.colourId))];
  const steps = stepsOfPattern(pattern, (band) => ids.map((id) => (id === band.colourId ? 1 : 0)));
  const shares = new Float64Array(ids.length);
  const x = (side === 'left' ? -1 : 1) * (widthMm / 2);
  const middle = half.uMm + half.uPerX * x + half.uPerY * (heightMm / 2) - pattern.originUMm;
  boxMean(steps, middle, Math.abs(half.uPerX) * widthMm, Math.abs(half.uPerY) * heightMm, shares);
  return ids.map((colourId, i) => ({ colourId, share: shares[i] }));
}
