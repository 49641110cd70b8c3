import type { Point } from '../math/matrix3.js';
import { reducedBasis, type UprightBasis, uprightBasis } from '../math/reduce-lattice.js';
import { type CoarseColumns, peakNear, shiftedCorrelation } from './motif-period.js';

/** A print counts as found again from this correlation on. */
const FOUND_AGAIN = 0.6;
/** Lags up to this part of the view are asked: motifs must overlap by enough to be compared. */
const LONGEST = 0.6;
/** Peaks a repeat across that are looked at, the highest first. */
const MOST_PEAKS = 4;

/**
 * The lattice of a print that is not seen to repeat along the stripes, its repeat being longer than half the view, but is found
 * again beside itself, higher and lower, as a drop leaves it: of the places at which it correlates with itself the two nearest
 * that lie in different directions span the lattice, reduced and then stood upright. Rows, repeats of the stripes; null
 * where it is found in one direction only.
 *
 * @param aspect rows to one repeat of the stripes: what is near is judged on the cloth.
 */
export function latticeFromDiagonals(
  coarse: CoarseColumns,
  mostRepeats: number,
  aspect: number,
): UprightBasis | null {
  const longest = Math.floor(LONGEST * coarse.rows);
  const lags = Array.from({ length: 2 * longest + 1 }, (_, k) => k - longest);
  const places: Point[] = [];
  for (let repeats = 1; repeats <= mostRepeats; repeats++) {
    const c = shiftedCorrelation(coarse, repeats, lags);
    const peaks = lags
      .map((_, k) => k)
      .filter((k) => c[k] > FOUND_AGAIN && c[k] >= c[k - 1] && c[k] > c[k + 1]);
    peaks.sort((p, q) => c[q] - c[p]);
    for (const k of peaks.slice(0, MOST_PEAKS)) places.push([repeats, peakNear(c, k) - longest]);
  }
  const onCloth = ([repeats, rows]: Point): Point => [repeats * aspect, rows];
  places.sort((p, q) => Math.hypot(...onCloth(p)) - Math.hypot(...onCloth(q)));
  const [first] = places;
  const second = places.find((place) => isApart(onCloth(first), onCloth(place)));
  const basis = second && reducedBasis(onCloth(first), onCloth(second));
  if (!basis) return null;
  const [p, q] = basis.map(([u, v]): Point => [Math.round(u / aspect), v]);
  return uprightBasis(p, q);
}

/** Directions nearer than this (sine) are one. */
const SAME_DIRECTION = 0.1;

const isApart = (p: Point, q: Point): boolean =>
  Math.abs(p[0] * q[1] - p[1] * q[0]) > SAME_DIRECTION * Math.hypot(...p) * Math.hypot(...q);
