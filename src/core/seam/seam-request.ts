import { UsageError } from '../base/outcome.js';
import type { Lay, PointOfV } from './lay.js';

/** One seam to look at. Angles between stripe and seam in degrees, lengths in mm. */
export interface SeamRequest {
  readonly leftDeg: number;
  readonly rightDeg: number;
  /** Index of the band whose middle meets the seam at the reference point. */
  readonly centre: number;
  /** The reference point, down the seam from its top. */
  readonly atMm: number;
  readonly seamMm: number;
  /** Slip of the right half's cloth, across its stripes; positive moves its bands down the seam. */
  readonly shiftMm: number;
  readonly point: PointOfV;
  readonly lay: Lay;
}

/** Shorter shows no stripes, longer is no garment's seam. */
export const SHORTEST_SEAM_MM = 10;
export const LONGEST_SEAM_MM = 10_000;

/** Throws UsageError naming the parameter when a length lies outside what can be drawn. */
export function checkSeamLengths(seamMm: number, atMm: number, allowanceMm: number): void {
  if (!(seamMm >= SHORTEST_SEAM_MM && seamMm <= LONGEST_SEAM_MM)) {
    throw new UsageError(
      `expected ${SHORTEST_SEAM_MM} mm to ${LONGEST_SEAM_MM / 1000} m, received ${seamMm} mm`,
      'seamMm',
    );
  }
  if (!(atMm >= 0 && atMm <= seamMm)) {
    throw new UsageError(
      `expected a place on the seam, 0 to ${seamMm} mm from its top, received ${atMm} mm`,
      'atMm',
    );
  }
  if (!(allowanceMm >= 0 && allowanceMm <= 100)) {
    throw new UsageError(`expected 0 to 100 mm, received ${allowanceMm} mm`, 'allowanceMm');
  }
}

/** Reads "30,45/38,60" as pairs [left, right]. Throws UsageError on anything outside (0, 90]. */
export function parseAngles(text: string): [number, number][] {
  return text.split(',').map((item) => {
    const sides = item.split('/').map((side) => (side.trim() === '' ? Number.NaN : Number(side)));
    if (sides.length > 2 || !sides.every((deg) => deg > 0 && deg <= 90)) {
      throw new UsageError(
        `expected degrees above 0 and up to 90, such as 30,45,60 or 45/38 for unequal sides, received "${text}"`,
        'angles',
      );
    }
    return [sides[0], sides[sides.length - 1]];
  });
}
