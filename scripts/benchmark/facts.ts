import type { BandModel, Point } from '../../src/core/model/band-model.js';
import { undistortGain } from '../../test/support/photo-painter/pinhole-camera.js';
import { inverseMap, mapPoint, type PlaneMap } from '../../test/support/photo-painter/plane-map.js';
import type { SceneTruth } from '../../test/support/photo-painter/scene-truth.js';

/** A photo point to cloth mm, the lens's curvature undone on the way. */
export type ClothFromPhoto = (point: Point) => Point;

const throughLens = (map: PlaneMap, k1: number, [width, height]: Point): ClothFromPhoto => {
  const halfDiagonal2 = (width ** 2 + height ** 2) / 4;
  return ([x, y]) => {
    const dx = x - width / 2;
    const dy = y - height / 2;
    const gain = undistortGain(k1, (dx * dx + dy * dy) / halfDiagonal2);
    return mapPoint(map, width / 2 + dx * gain, height / 2 + dy * gain);
  };
};

export const trueClothFromPhoto = (truth: SceneTruth): ClothFromPhoto =>
  throughLens(
    inverseMap(truth.homography_cloth_mm_to_photo_px.flat()),
    truth.k1_half_diagonal,
    truth.image_size,
  );

/** How high the lens stood above the cloth, mm, as the homography and the focal length have it (Zhang 2000, doi 10.1109/34.888718). */
export function lensHeightMm(truth: SceneTruth): number {
  const [width, height] = truth.image_size;
  const m = truth.homography_cloth_mm_to_photo_px;
  // Columns in camera axes: along u, along v, and to the cloth's origin, up to a common factor.
  const [u, v, origin] = [0, 1, 2].map((c) => [
    (m[0][c] - (width / 2) * m[2][c]) / truth.focal_px,
    (m[1][c] - (height / 2) * m[2][c]) / truth.focal_px,
    m[2][c],
  ]);
  const normal = [u[1] * v[2] - u[2] * v[1], u[2] * v[0] - u[0] * v[2], u[0] * v[1] - u[1] * v[0]];
  const size = Math.hypot(...u);
  const dot = normal[0] * origin[0] + normal[1] * origin[1] + normal[2] * origin[2];
  return Math.abs(dot) / (Math.hypot(...normal) * size);
}

/** Null where the model was typed in by hand. */
export const measuredClothFromPhoto = (model: BandModel): ClothFromPhoto | null =>
  model.plane && model.photo
    ? throughLens(model.plane.homography, model.plane.k1, [model.photo.width_px, model.photo.height_px])
    : null;

/** Direction in which u (axis 0) or v (axis 1) grows at a photo point, as a unit vector in the photo. */
export function growthInPhoto(clothFromPhoto: ClothFromPhoto, [x, y]: Point, axis: 0 | 1): Point {
  const dx = clothFromPhoto([x + 1, y])[axis] - clothFromPhoto([x - 1, y])[axis];
  const dy = clothFromPhoto([x, y + 1])[axis] - clothFromPhoto([x, y - 1])[axis];
  const length = Math.hypot(dx, dy);
  return [dx / length, dy / length];
}

/** The part of a segment inside the photo, or null. Liang-Barsky. */
export function clipToPhoto(from: Point, to: Point, [width, height]: Point): [Point, Point] | null {
  let enter = 0;
  let leave = 1;
  const d = [to[0] - from[0], to[1] - from[1]];
  for (const [p, q] of [
    [-d[0], from[0]],
    [d[0], width - from[0]],
    [-d[1], from[1]],
    [d[1], height - from[1]],
  ]) {
    if (p === 0 && q < 0) return null;
    if (p < 0) enter = Math.max(enter, q / p);
    if (p > 0) leave = Math.min(leave, q / p);
  }
  if (enter >= leave) return null;
  const at = (t: number): Point => [from[0] + t * d[0], from[1] + t * d[1]];
  return [at(enter), at(leave)];
}
