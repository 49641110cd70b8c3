/**
 * Closed forms of stripes at a straight seam. Angles in degrees between stripe and seam, (0, 90]; lengths
 * in mm. Plane trigonometry; angles other than 90 also work as their supplement.
 */
export const sinDeg = (deg: number): number => (deg === 90 ? 1 : Math.sin((deg * Math.PI) / 180));
/** Exactly 0 at 90, so that stripes square to the seam stay square. */
export const cosDeg = (deg: number): number => (deg === 90 ? 0 : Math.cos((deg * Math.PI) / 180));
export const cotDeg = (deg: number): number => cosDeg(deg) / sinDeg(deg);

/** Length along the seam of a width measured across the stripes; also the mismatch of a slip across them. */
export const alongSeamMm = (acrossMm: number, angleDeg: number): number => acrossMm / sinDeg(angleDeg);

/** Angle the two arms enclose; 180 means that there is no point. */
export const enclosedDeg = (leftDeg: number, rightDeg: number): number => leftDeg + rightDeg;

/** How two unequal sides run apart from the one point where they agree. */
export interface Drift {
  /** Difference of the two repeats along the seam. */
  readonly perRepeatMm: number;
  /** Along the seam on the right side, for 100 mm of the left. Negative: the right side's edge falls short. */
  readonly per100Mm: number;
  /** Seam length after which the sides are half a repeat out. */
  readonly halfRepeatAtMm: number;
}

/** Null for equal angles: nothing runs apart. */
export function drift(repeatMm: number, leftDeg: number, rightDeg: number): Drift | null {
  const [left, right] = [sinDeg(leftDeg), sinDeg(rightDeg)];
  if (Math.abs(left - right) < 1e-12) return null;
  return {
    perRepeatMm: Math.abs(repeatMm / left - repeatMm / right),
    per100Mm: 100 * (left / right - 1),
    halfRepeatAtMm: repeatMm / (2 * Math.abs(left - right)),
  };
}

/** What matching at the cutting line instead of the stitching line would have done. */
export interface CutEdgeMatch {
  /** A mirrored pair: the bands' points move this far along the seam, away from where they were wanted. */
  readonly pointsMoveMm: number;
  /** And the halves then miss each other by this much: 0 when both sides have the same angle. */
  readonly mirroredMismatchMm: number;
  /** Stripes running on across the seam: the halves miss each other by this much. */
  readonly runOnMismatchMm: number;
}

/** allowanceMm: seam allowance of each half. */
export const cutEdgeMatch = (allowanceMm: number, leftDeg: number, rightDeg: number): CutEdgeMatch => ({
  pointsMoveMm: (allowanceMm * (cotDeg(leftDeg) + cotDeg(rightDeg))) / 2,
  mirroredMismatchMm: allowanceMm * Math.abs(cotDeg(leftDeg) - cotDeg(rightDeg)),
  runOnMismatchMm: allowanceMm * (cotDeg(leftDeg) + cotDeg(rightDeg)),
});
