/** Focal length in px of a picture, and the standard deviation of its logarithm. */
export interface FocalLength {
  readonly focalPx: number;
  readonly logSd: number;
}

/** Diagonal of a 36 mm x 24 mm frame: 35 mm-equivalent focal lengths are given by the diagonal (CIPA DCG-001). */
const FULL_FRAME_DIAGONAL_MM = Math.hypot(36, 24);

/**
 * From EXIF where it is known; else a phone's main camera is taken, 26 mm give or take a fifth (24 to 28 mm are
 * common, and close-ups are often taken at twice that), and the fit may move it.
 */
export function focalLength(focal35Mm: number | null, widthPx: number, heightPx: number): FocalLength {
  const diagonalPx = Math.hypot(widthPx, heightPx);
  const mm = focal35Mm ?? 27;
  return { focalPx: (mm / FULL_FRAME_DIAGONAL_MM) * diagonalPx, logSd: focal35Mm === null ? 0.2 : 0 };
}
