import type { BandModel } from '../../model/band-model.js';
import { type ClothPattern, clothPattern } from '../../model/cloth-pattern.js';
import { edgeSequence } from '../../seam/edge-sequence.js';
import { COMMON_HANDLING_MM } from '../../seam/expect/handling.js';
import { seamExpectation } from '../../seam/expect/seam-expectation.js';
import { clothUnevenness, type Unevenness } from '../../seam/expect/unevenness.js';
import { seamMatch } from '../../seam/seam-match.js';
import { LONGEST_SEAM_MM, SHORTEST_SEAM_MM } from '../../seam/seam-request.js';
import { bandIndexAt } from '../cloth/band-line.js';
import type { AskedCloth } from '../miss/asked-cloth.js';
import type { FoundJoin } from '../plan/plan-terms.js';
import type { LaidCopy } from '../shape/copy-shape.js';
import { type Path, placeOn } from '../shape/path.js';
import type { JoinExpectation } from './placement.js';
import { roundedMm } from './rounded.js';

/** What the model knows of the cloth's unevenness, once for all joins. */
export interface KnownUnevenness {
  readonly pattern: ClothPattern;
  readonly uneven: Unevenness;
}

/** Null where the model knows nothing of it. */
export function knownUnevenness(model: BandModel): KnownUnevenness | null {
  const pattern = clothPattern(model);
  if (!pattern.ok) return null;
  const uneven = clothUnevenness(model, pattern.value, edgeSequence(model, pattern.value));
  return uneven === null ? null : { pattern: pattern.value, uneven };
}

/** A seam that strays further than this part of its length from straight has no one angle. */
const STRAIGHT = 0.03;
/** Colours that are unlike over more than this part of a seam do not meet, and to expect little there would mislead. */
const MEETS = 0.01;
/** Angles nearer than this are equal, degrees. */
const EQUAL_DEG = 0.1;

/**
 * What the worst edge of a join may miss by though it meets on the mean cloth, because no stripe is quite like the next: as for a chevron of the same
 * angle, band and length. Null where the sides do not meet, run at unequal angles or are curved, and where the model knows nothing of it.
 */
export function joinExpectation(
  cloth: AskedCloth,
  { left, right }: FoundJoin,
  [leftLay, rightLay]: readonly [LaidCopy, LaidCopy],
  unlikeMm: number,
  known: KnownUnevenness,
): JoinExpectation | null {
  const seamMm = left.path.lengthMm;
  if (unlikeMm > MEETS * seamMm || seamMm < SHORTEST_SEAM_MM || seamMm > LONGEST_SEAM_MM) return null;
  const [leftDeg, rightDeg] = [angleDeg(left.path), angleDeg(right.path)];
  if (leftDeg === null || rightDeg === null || Math.abs(leftDeg - rightDeg) > EQUAL_DEG) return null;
  const [l, r] = [rise(left.path) * leftLay.across.sign, rise(right.path) * rightLay.across.sign];
  const { line, stripes } = cloth.across;
  const [p] = placeOn(left.path, seamMm / 2);
  const match = seamMatch(
    known.pattern,
    {
      leftDeg,
      rightDeg: leftDeg,
      centre: line.band[bandIndexAt(line, leftLay.across.sign * p + leftLay.across.offsetMm)],
      atMm: seamMm / 2,
      seamMm,
      shiftMm: 0,
      point: 'down',
      // What counts is only whether the right side reads the bands as the left does or backwards.
      lay: l * r > 0 ? 'head-to-tail' : 'same-way',
    },
    stripes.mirrorAxisMm,
  );
  const { worst } = seamExpectation(match, known.uneven, COMMON_HANDLING_MM);
  if (worst === null) return null;
  return {
    cloth_p90_mm: roundedMm(worst.cloth.p90),
    sewn_p90_mm: roundedMm(worst.sewn.p90),
    handling_mm: COMMON_HANDLING_MM,
  };
}

/** How far across the stripes a seam comes from its start to its end. */
const rise = ({ pMm }: Path): number => pMm[pMm.length - 1] - pMm[0];

/** Between stripes and seam, in (0, 90]; null where the seam is curved, or runs along the stripes. */
function angleDeg(path: Path): number | null {
  const { pMm, qMm, lengthMm } = path;
  const n = pMm.length - 1;
  const chordMm = Math.hypot(pMm[n] - pMm[0], qMm[n] - qMm[0]);
  if (chordMm < (1 - STRAIGHT * STRAIGHT * 4) * lengthMm) return null;
  const deg = (Math.asin(Math.min(1, Math.abs(rise(path)) / chordMm)) * 180) / Math.PI;
  return deg > 3 ? deg : null;
}
