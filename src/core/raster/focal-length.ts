/** Focal length in px of a picture, and the standard deviation of its logarithm (0 = known). */
export interface FocalLength {
  readonly focalPx: number;
  readonly logSd: number;
}

/** Diagonal of a 36 mm x 24 mm frame: 35 mm-equivalent focal lengths are given by the diagonal (CIPA DCG-001). */
const FULL_FRAME_DIAGONAL_MM = Math.hypot(36, 24);
/** Between a phone's main camera (24 to 28 mm) and its double (48 to 56 mm), nearer to the first. */
const USUAL_MM = 28;

/** From EXIF where it is known (35 mm equivalent); else a usual one, give or take a third. */
export function focalLength(focal35Mm: number | null, widthPx: number, heightPx: number): FocalLength {
  const focalPx = ((focal35Mm ?? USUAL_MM) / FULL_FRAME_DIAGONAL_MM) * Math.hypot(widthPx, heightPx);
  return { focalPx, logSd: focal35Mm === null ? 0.3 : 0 };
}
