import { homographyFromPoints } from '../math/homography.js';
import { type Matrix3, type Point, stretchAt } from '../math/matrix3.js';
import type { SheetSpec } from './sheet-sizes.js';

/** How a rectangle of known sides would have to lie before the camera to have its corners where they are. */
export interface SheetPose {
  readonly pictureFromSheet: Matrix3;
  /** Corners in the picture, px: clockwise as seen, the first two at the ends of a long side. */
  readonly corners: readonly [Point, Point, Point, Point];
  /** The same corners on the sheet, mm, x along the long side, y clockwise from it. */
  readonly cornersMm: readonly [Point, Point, Point, Point];
  readonly pxPerMm: number;
  readonly tiltDeg: number;
  /** By how much the long side would be too long for the short one, as a fraction; 0 for a perfect fit. */
  readonly sideMisfit: number;
  /** Cosine of the angle between the sides on the sheet; 0 for a perfect fit. */
  readonly squareMisfit: number;
}

/**
 * Lays the sheet on four corners given in any order, its long side on whichever pair of sides fits it better. Null unless
 * the corners make a convex quadrilateral.
 */
export function sheetPose(
  given: readonly Point[],
  spec: SheetSpec,
  focalPx: number,
  centre: Point,
): SheetPose | null {
  const corners = clockwise(given);
  if (corners === null) return null;
  const [p, q, r, s] = corners;
  const poses = [corners, [q, r, s, p] as const].map((order) => poseOf(order, spec, focalPx, centre));
  return poses.reduce((best, pose) => {
    if (best === null || pose === null) return best ?? pose;
    return Math.abs(pose.sideMisfit) < Math.abs(best.sideMisfit) ? pose : best;
  });
}

function poseOf(
  corners: SheetPose['corners'],
  spec: SheetSpec,
  focalPx: number,
  centre: Point,
): SheetPose | null {
  const { longMm, shortMm } = spec;
  const cornersMm = [
    [0, 0],
    [longMm, 0],
    [longMm, shortMm],
    [0, shortMm],
  ] as const;
  const pictureFromSheet = homographyFromPoints(cornersMm, corners);
  if (pictureFromSheet === null) return null;
  // Columns of the rotation, up to one common length: the camera matrix taken off (Zhang 2000, doi 10.1109/34.888718).
  const h = pictureFromSheet;
  const column = (k: 0 | 1): [number, number, number] => [
    (h[k] - centre[0] * h[6 + k]) / focalPx,
    (h[3 + k] - centre[1] * h[6 + k]) / focalPx,
    h[6 + k],
  ];
  const along = column(0);
  const down = column(1);
  const longLength = Math.hypot(...along);
  const shortLength = Math.hypot(...down);
  const normalZ = along[0] * down[1] - along[1] * down[0];
  const normal = Math.hypot(
    along[1] * down[2] - along[2] * down[1],
    along[2] * down[0] - along[0] * down[2],
    normalZ,
  );
  const [a, b, c, d] = stretchAt(pictureFromSheet, [longMm / 2, shortMm / 2]);
  return {
    pictureFromSheet,
    corners,
    cornersMm,
    pxPerMm: Math.sqrt(Math.abs(a * d - b * c)),
    tiltDeg: (Math.acos(Math.min(1, Math.abs(normalZ) / normal)) * 180) / Math.PI,
    sideMisfit: longLength / shortLength - 1,
    squareMisfit: (along[0] * down[0] + along[1] * down[1] + along[2] * down[2]) / (longLength * shortLength),
  };
}

/** The place a share s along and t across within four corners (each 0..1), straight between them; px. */
export function placeWithin(corners: SheetPose['corners'], s: number, t: number): Point {
  const mix = (k: 0 | 1): number =>
    (1 - t) * ((1 - s) * corners[0][k] + s * corners[1][k]) +
    t * ((1 - s) * corners[3][k] + s * corners[2][k]);
  return [mix(0), mix(1)];
}

/** Four points in convex position, clockwise as seen (y down), starting at the one given first; null for any others. */
export function clockwise(given: readonly Point[]): SheetPose['corners'] | null {
  if (given.length !== 4) return null;
  const mx = given.reduce((sum, p) => sum + p[0], 0) / 4;
  const my = given.reduce((sum, p) => sum + p[1], 0) / 4;
  const sorted = [...given].sort(
    (p, q) => Math.atan2(p[1] - my, p[0] - mx) - Math.atan2(q[1] - my, q[0] - mx),
  );
  const first = sorted.indexOf(given[0]);
  const corners = [0, 1, 2, 3].map((k) => sorted[(first + k) % 4]) as unknown as SheetPose['corners'];
  const size = Math.max(...given.map((p) => Math.hypot(p[0] - mx, p[1] - my)));
  const convex = corners.every((p, k) => {
    const q = corners[(k + 1) % 4];
    const r = corners[(k + 2) % 4];
    const turn = (q[0] - p[0]) * (r[1] - q[1]) - (q[1] - p[1]) * (r[0] - q[0]);
    return turn > 1e-3 * size * size;
  });
  return convex ? corners : null;
}
