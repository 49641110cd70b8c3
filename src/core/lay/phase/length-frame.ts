import type { Transform } from '../../place/answer/placement.js';
import type { ClothLength } from '../../place/plan/plan.js';

/**
 * Length frame to cloth frame. Lengthwise: u = x - b1Start + start, v = y - alongStart; crosswise: u = b1Start - y + start, v = x - alongStart.
 * firstBandStartMm: u of the start of the first band listed; 0 on plain cloth.
 */
export function clothFromLength(
  { stripes, b1StartMm, alongStartMm }: Pick<ClothLength, 'stripes' | 'b1StartMm' | 'alongStartMm'>,
  firstBandStartMm: number,
): Transform {
  const b1 = b1StartMm ?? firstBandStartMm;
  return stripes === 'lengthwise'
    ? [1, 0, 0, 1, firstBandStartMm - b1, -alongStartMm]
    : [0, 1, -1, 0, b1 + firstBandStartMm, -alongStartMm];
}
