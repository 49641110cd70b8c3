import type { AskedStripes } from '../miss/asked-cloth.js';
import type { FoundJoin } from '../plan/plan-terms.js';
import type { AxisLay, LaidCopy } from '../shape/copy-shape.js';
import { type Path, placeOn } from '../shape/path.js';
import type { JoinDrift } from './placement.js';
import { roundedMm } from './rounded.js';

/** Stripes that cross a seam by less than this part of its length run along it, and no drift can be told: 3 degrees. */
const LEAST_CROSSING = 0.05;
/** Drifts over the whole join below this are none, mm: half the finest line a chalk draws. */
const NO_DRIFT_MM = 0.05;

/**
 * How the stripes of the two sides run apart along a join whose sides cross them at unequal angles, both taken as straight from start to
 * end. Null where they do not, or where the stripes run along the seam.
 */
export function driftOf(
  { stripes }: AskedStripes,
  { left, right }: FoundJoin,
  [leftLay, rightLay]: readonly [LaidCopy, LaidCopy],
): JoinDrift | null {
  const { lengthMm } = left.path;
  const [l0, l1] = ends(left.path, leftLay.across);
  const [r0, r1] = ends(right.path, rightLay.across);
  const perMm = (l1 - l0) / lengthMm;
  const rightPerMm = (r1 - r0) / lengthMm;
  if (Math.abs(perMm) < LEAST_CROSSING || Math.abs(rightPerMm) < LEAST_CROSSING) return null;
  // Where one side is read upwards and the other downwards, the right one is compared by its image in a mirror line of the stripes.
  const isSame = perMm * rightPerMm > 0;
  const axisMm = stripes.mirrorAxisMm;
  if (!isSame && axisMm === null) return null;
  const gap = (l: number, r: number): number => (isSame ? r - l : r + l - 2 * (axisMm as number));
  const grows = gap(l1, r1) - gap(l0, r0);
  if (Math.abs(grows / rightPerMm) < NO_DRIFT_MM) return null;
  // Of all the repeats that could agree, the one that does so nearest to the middle of the join.
  const offset = Math.round((gap(l0, r0) + grows / 2) / stripes.periodMm) * stripes.periodMm;
  const at = Math.min(1, Math.max(0, (offset - gap(l0, r0)) / grows));
  const apart = (part: number): number => (offset - gap(l0, r0) - part * grows) / rightPerMm;
  return {
    agrees_at_mm: roundedMm(at * lengthMm),
    start_mm: roundedMm(apart(0)),
    end_mm: roundedMm(apart(1)),
  };
}

const ends = (path: Path, { sign, offsetMm }: AxisLay): readonly [number, number] => [
  sign * path.pMm[0] + offsetMm,
  sign * placeOn(path, path.lengthMm)[0] + offsetMm,
];
