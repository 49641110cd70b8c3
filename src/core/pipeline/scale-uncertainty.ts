import type { PlaneSolution } from '../rectify/solve-plane.js';
import type { Reference } from '../reference/reference.js';

/**
 * How high the marks of a reference lie above the cloth is not seen, and they look larger for being nearer: standard deviation of that height, mm
 * (common practice: a tape lies flat, a rule of steel, plastic or wood is 0.5 to 2 mm thick, often bevelled; of a card the 0.76 mm of
 * ISO/IEC 7810 are allowed for where it is read, and what it bends or sinks in is left; paper 0.1 mm).
 */
const HEIGHT_SD_MM: Readonly<Record<Reference['source'], number>> = {
  ruler: 0.6,
  card: 0.2,
  sheet: 0.1,
  points: 0,
  density: 0,
};

/** Relative standard deviation of lengths: the reference's own, its height above the cloth, and what the plane leaves open. */
export interface ScaleUncertainty {
  /** At the reference. */
  readonly scaleSd: number;
  /** Of the repeat, over all the cloth in view. */
  readonly repeatSd: number;
}

/** Relative standard deviation of lengths at the reference. */
export const scaleSdOf = (reference: Reference, distanceMm: number): number =>
  Math.hypot(reference.relativeSd, HEIGHT_SD_MM[reference.source] / distanceMm);

export function scaleUncertainty(reference: Reference, plane: PlaneSolution): ScaleUncertainty {
  const scaleSd = Math.hypot(reference.relativeSd, heightSd(reference.source, plane));
  return { scaleSd, repeatSd: Math.hypot(scaleSd, plane.repeatScaleSd ?? plane.scaleSd) };
}

/** What the unseen height of its marks leaves open of lengths, as a relative standard deviation. */
export const heightSd = (source: Reference['source'], { camera }: PlaneSolution): number =>
  HEIGHT_SD_MM[source] / camera.distanceMm;
