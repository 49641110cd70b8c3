import { type PlacePair, pairOfPlaces } from './best-places.js';
import { unmatchedStretches } from './crossings.js';
import type { EdgeSequence } from './edge-sequence.js';
import { leftOnCloth, rightOnCloth } from './half-placement.js';
import { alongSeamMm } from './seam-lengths.js';
import { type SeamMatch, withKinds } from './seam-match.js';

/** Cloth v of the two halves' reference points. */
export interface PlacedV {
  readonly leftMm: number;
  readonly rightMm: number;
}

/** The same seam cut from two stated places of the photographed cloth, its real edges in place of the mean ones. */
export function placedMatch(
  match: SeamMatch,
  sequence: EdgeSequence,
  pair: PlacePair,
  v: PlacedV,
): SeamMatch {
  const { request, pattern } = match;
  const { leftDeg, rightDeg, atMm, point, lay, shiftMm } = request;
  const { sides } = pairOfPlaces(sequence, request, pair.left.place, pair.right.place);
  return {
    ...match,
    left: leftOnCloth(leftDeg, point, { atMm, uMm: pair.left.uMm, vMm: v.leftMm }),
    right: rightOnCloth(rightDeg, point, lay, {
      atMm: atMm + alongSeamMm(shiftMm, rightDeg),
      uMm: pair.right.uMm,
      vMm: v.rightMm,
    }),
    sides,
    crossings: withKinds(pattern, pair.crossings),
    unmatched: unmatchedStretches(pair.crossings, request, sides, (band) => pattern.bands[band].srgb),
  };
}
