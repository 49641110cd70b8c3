import type { Point } from '../../math/matrix3.js';
import { focalLength } from '../../raster/focal-length.js';
import type { Photo } from '../../raster/photo.js';
import {
  type MarkGroup,
  type PaperPlane,
  type StraightEdge,
  solvePaperPlane,
} from '../../rectify/paper-plane/solve-paper-plane.js';
import type { Reference } from '../../reference/reference.js';

/** People asked to hold a camera level do so to some 3 degrees; where the plane is measured, they need not. */
const LEVEL_SD = 0.05;
const FREE_SD = 0.2;

/** One reference whose marks lie on a line shows no tilt across it. */
export const isOneLine = (references: readonly Reference[]): boolean =>
  references.length === 1 && references[0].corners === null;

export function planeOfPaper(
  photo: Photo,
  references: readonly Reference[],
  straights: readonly StraightEdge[],
): PaperPlane {
  const { width, height } = photo.picture;
  const { focalPx, logSd } = focalLength(photo.focal35Mm, width, height);
  return solvePaperPlane({
    widthPx: width,
    heightPx: height,
    focalPx,
    focalLogSd: logSd,
    pxPerMm: references[0].pxPerMm,
    groups: references.map(
      (reference): MarkGroup => ({
        marks: reference.marks,
        markSdPx: reference.markSdPx,
        levelSdPx: reference.levelSdPx,
        sideMarks: reference.sideMarks,
        relativeSd: Math.max(2e-4, reference.relativeSd),
      }),
    ),
    straights,
    tiltSd: isOneLine(references) ? LEVEL_SD : FREE_SD,
  });
}

/** Outline of a sheet as straight edges, from places followed along it and its corners, both picture px. */
export function sidesOfSheet(edge: readonly Point[], corners: readonly Point[]): StraightEdge[] {
  return corners.map((a, k) => {
    const b = corners[(k + 1) % corners.length];
    const length = Math.hypot(b[0] - a[0], b[1] - a[1]);
    const [cx, cy] = [(b[0] - a[0]) / length, (b[1] - a[1]) / length];
    const points = edge
      .map((p) => ({
        p,
        t: ((p[0] - a[0]) * cx + (p[1] - a[1]) * cy) / length,
        o: Math.abs(-(p[0] - a[0]) * cy + (p[1] - a[1]) * cx),
      }))
      .filter(({ t, o }) => t > 0.06 && t < 0.94 && o < 0.01 * length + 4)
      .sort((p, q) => p.t - q.t)
      .map(({ p }) => p);
    return { points, sure: true };
  });
}
