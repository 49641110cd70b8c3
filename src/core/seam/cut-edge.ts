import type { HalfOnCloth } from '../model/half-on-cloth.js';
import { crossings, type SeamSides, unmatchedStretches } from './crossings.js';
import { sinDeg } from './seam-lengths.js';
import { type SeamMatch, withKinds } from './seam-match.js';

/**
 * The seam that comes out when the halves are matched where their cutting lines run, `allowanceMm` beyond
 * the stitching line, instead of on the stitching line itself. Its request tells where the left half's band
 * went and how far the right one's lies from it.
 */
export function matchedAtCutEdge(match: SeamMatch, allowanceMm: number): SeamMatch {
  const { left, right, request, pattern } = match;
  // Follow each half's stripe from the cutting line back to the stitching line.
  const leftMoves = (allowanceMm * left.uPerX) / left.uPerY;
  const rightMoves = (-allowanceMm * right.uPerX) / right.uPerY;
  const moved = {
    ...request,
    atMm: request.atMm + leftMoves,
    shiftMm: request.shiftMm + (rightMoves - leftMoves) * sinDeg(request.rightDeg),
  };
  const sides: SeamSides = match.sides;
  const found = crossings(sides, moved);
  return {
    ...match,
    request: moved,
    left: slid(left, leftMoves),
    right: slid(right, rightMoves),
    crossings: withKinds(pattern, found),
    unmatched: unmatchedStretches(found, moved, sides, (band) => pattern.bands[band].srgb),
  };
}

/** The half with its cloth moved down the seam. */
const slid = (half: HalfOnCloth, downMm: number): HalfOnCloth => ({
  ...half,
  uMm: half.uMm - half.uPerY * downMm,
  vMm: half.vMm - half.vPerY * downMm,
});
