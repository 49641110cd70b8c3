import { bandMiddleU, type ClothPattern, wrap } from '../model/cloth-pattern.js';
import type { HalfOnCloth } from '../model/half-on-cloth.js';
import { type Crossing, crossings, type SeamSides, type Stretch, unmatchedStretches } from './crossings.js';
import { leftOnCloth, rightOnCloth } from './half-placement.js';
import { alongSeamMm, enclosedDeg } from './seam-lengths.js';
import type { SeamRequest } from './seam-request.js';
import { meanSide } from './side-edges.js';

/** A crossing, and whether both sides bring the same pair of colours to it. */
export interface SeamCrossing extends Crossing {
  /** Both sides bring the same pair of colours. */
  readonly meets: boolean;
}

/** How two halves of the mean cloth meet: all that a picture of the seam needs. */
export interface SeamMatch {
  /** What was asked for, as asked. */
  readonly request: SeamRequest;
  /** One repeat of the cloth. */
  readonly pattern: ClothPattern;
  /** The cross stripes of a check along v; null on plain stripes. */
  readonly cross: ClothPattern | null;
  /** Where the left half lies on the cloth (cloth frame, mm). */
  readonly left: HalfOnCloth;
  /** Where the right half lies on the cloth. */
  readonly right: HalfOnCloth;
  /** Edges of either side, as distances across the stripes from the matched point. */
  readonly sides: SeamSides;
  /** Band that the right half brings to the reference point; the left one brings request.centre. */
  readonly rightCentre: number;
  /** Between the arms of the V, degrees; 180 where the stripes run on. */
  readonly enclosedDeg: number;
  /** One repeat along the seam, left and right. */
  readonly repeatAlongMm: readonly [number, number];
  /** Edges that meet the seam, from its top. */
  readonly crossings: readonly SeamCrossing[];
  /** Where the two sides show different colours. */
  readonly unmatched: readonly Stretch[];
}

/**
 * Joins two halves at a seam. axisUMm: the cloth's mirror line, for the lay `same-way`; null when it has
 * none, and then the centre band is laid on itself and the others fall where they may.
 */
export function seamMatch(
  pattern: ClothPattern,
  request: SeamRequest,
  axisUMm: number | null,
  cross: ClothPattern | null = null,
): SeamMatch {
  const { leftDeg, rightDeg, centre, atMm, point, lay, shiftMm } = request;
  const reversed = lay === 'same-way';
  const middle = bandMiddleU(pattern, centre);
  const rightCentre = reversed && axisUMm !== null ? mirroredBand(pattern, 2 * axisUMm - middle) : centre;
  const left = leftOnCloth(leftDeg, point, { atMm, uMm: middle, vMm: 0 });
  const right = rightOnCloth(rightDeg, point, lay, {
    atMm: atMm + alongSeamMm(shiftMm, rightDeg),
    uMm: bandMiddleU(pattern, rightCentre),
    vMm: 0,
  });
  const sides = { left: meanSide(pattern, centre, false), right: meanSide(pattern, rightCentre, reversed) };
  const found = crossings(sides, request);
  return {
    request,
    pattern,
    cross,
    left,
    right,
    sides,
    rightCentre,
    enclosedDeg: lay === 'run-on' ? 180 : enclosedDeg(leftDeg, rightDeg),
    repeatAlongMm: [alongSeamMm(pattern.repeatMm, leftDeg), alongSeamMm(pattern.repeatMm, rightDeg)],
    crossings: withKinds(pattern, found),
    unmatched: unmatchedStretches(found, request, sides, (band) => pattern.bands[band].srgb),
  };
}

/** Marks the crossings at which both sides bring the same pair of colours, so that the misfit is a length. */
export const withKinds = (pattern: ClothPattern, found: readonly Crossing[]): SeamCrossing[] =>
  found.map((one) => ({
    ...one,
    meets: [0, 1].every(
      (i) => pattern.bands[one.leftBands[i]].srgb === pattern.bands[one.rightBands[i]].srgb,
    ),
  }));

/** Band whose middle lies nearest to u. */
function mirroredBand(pattern: ClothPattern, u: number): number {
  let best = 0;
  let nearest = Number.POSITIVE_INFINITY;
  pattern.bands.forEach((_, band) => {
    const d =
      wrap(u - bandMiddleU(pattern, band) + pattern.repeatMm / 2, pattern.repeatMm) - pattern.repeatMm / 2;
    if (Math.abs(d) < nearest) {
      nearest = Math.abs(d);
      best = band;
    }
  });
  return best;
}
