import { type PlacePair, pairOfPlaces } from './best-places.js';
import { type Stretch, unmatchedStretches } from './crossings.js';
import type { EdgeSequence } from './edge-sequence.js';
import { leftOnCloth, rightOnCloth } from './half-placement.js';
import { alongSeamMm } from './seam-lengths.js';
import { type SeamMatch, withKinds } from './seam-match.js';

/** Cloth v of the two halves' reference points. */
export interface PlacedV {
  readonly leftMm: number;
  readonly rightMm: number;
}

/**
 * The same seam cut from two stated places of the photographed cloth, its real edges in place of the mean ones. Only differences
 * longer than visibleMm count as not meeting, and only where both halves were photographed: beyond, nothing is known.
 */
export function placedMatch(
  match: SeamMatch,
  sequence: EdgeSequence,
  pair: PlacePair,
  v: PlacedV,
  visibleMm: number,
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
    unmatched: unmatchedStretches(pair.crossings, request, sides, (band) => pattern.bands[band].srgb)
      .flatMap((stretch) => inView(stretch, pair))
      .filter(({ fromMm, toMm }) => toMm - fromMm > visibleMm),
  };
}

/** The part of a stretch that lies between the outermost edges seen, or within the whole seam where all were. */
function inView(stretch: Stretch, pair: PlacePair): Stretch[] {
  if (!pair.continued) return [stretch];
  const seen = pair.crossings.filter((one) => one.seen);
  if (seen.length === 0) return [];
  const [first, last] = [seen[0], seen[seen.length - 1]];
  const fromMm = Math.max(stretch.fromMm, Math.min(first.leftMm, first.rightMm));
  const toMm = Math.min(stretch.toMm, Math.max(last.leftMm, last.rightMm));
  return toMm > fromMm ? [{ fromMm, toMm }] : [];
}
