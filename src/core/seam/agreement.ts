import type { ClothPattern } from '../model/cloth-pattern.js';
import type { SeamSides } from './crossings.js';
import { sinDeg } from './seam-lengths.js';
import type { SeamRequest } from './seam-request.js';

/** A place on the seam where the two sides bring the same part of the repeat, although they run apart from there. */
export interface AgreeingPlace {
  /** Down the seam from its top. */
  readonly atMm: number;
  /** Band of the repeat that lies there. */
  readonly band: number;
}

/**
 * Where sides of unequal angle agree: x mm below the reference point the left side is x sin(left) into its bands and the right
 * one x sin(right) less its slip, so they agree wherever the two differ by whole repeats. Places on the seam, from the top;
 * none may lie on it. Empty for equal angles, which agree all along or nowhere.
 */
export function agreeingPlaces(
  pattern: ClothPattern,
  request: SeamRequest,
  sides: SeamSides,
): AgreeingPlace[] {
  const { leftDeg, rightDeg, atMm, seamMm, shiftMm } = request;
  const parting = sinDeg(rightDeg) - sinDeg(leftDeg);
  if (Math.abs(parting) < 1e-12) return [];
  const turnsAt = (s: number): number => ((s - atMm) * parting - shiftMm) / pattern.repeatMm;
  const ends = [turnsAt(0), turnsAt(seamMm)].sort((a, b) => a - b);
  const places: AgreeingPlace[] = [];
  for (let turns = Math.ceil(ends[0] - 1e-9); turns <= ends[1] + 1e-9; turns++) {
    const s = atMm + (turns * pattern.repeatMm + shiftMm) / parting;
    const across = (s - atMm) * sinDeg(leftDeg);
    let m = 0;
    while (sides.left.offsetMm(m) > across + 1e-9) m--;
    while (sides.left.offsetMm(m + 1) <= across - 1e-9) m++;
    places.push({ atMm: Math.min(seamMm, Math.max(0, s)), band: sides.left.bandAfter(m) });
  }
  return places.sort((a, b) => a.atMm - b.atMm);
}

/**
 * The slip of the right half, across its stripes, that makes sides of unequal angle agree at a chosen place of the seam. Whole
 * repeats more or less do as well.
 */
export const shiftToAgreeAt = (
  agreeAtMm: number,
  { leftDeg, rightDeg, atMm }: Pick<SeamRequest, 'leftDeg' | 'rightDeg' | 'atMm'>,
): number => (agreeAtMm - atMm) * (sinDeg(rightDeg) - sinDeg(leftDeg));
