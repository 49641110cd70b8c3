/**
 * Where one half of the garment lies on the cloth: clothFromGarment as a linear map.
 *
 * Garment frame: mm, x to the right from the stitching line, y down from its top; the left half has x < 0.
 * Cloth frame: mm, u across the stripes, v along them (u is v turned 90 degrees clockwise as seen).
 * u = uMm + uPerX x + uPerY y, and v likewise.
 */
export interface HalfOnCloth {
  readonly uMm: number;
  readonly uPerX: number;
  readonly uPerY: number;
  readonly vMm: number;
  readonly vPerX: number;
  readonly vPerY: number;
}

/** Cloth place of a garment point: [u, v]. */
export const clothFromGarment = (half: HalfOnCloth, x: number, y: number): [number, number] => [
  half.uMm + half.uPerX * x + half.uPerY * y,
  half.vMm + half.vPerX * x + half.vPerY * y,
];

/** Garment place of a cloth point: the inverse (the map is orthogonal). [x, y]. */
export function garmentFromCloth(half: HalfOnCloth, u: number, v: number): [number, number] {
  const [du, dv] = [u - half.uMm, v - half.vMm];
  return [half.uPerX * du + half.vPerX * dv, half.uPerY * du + half.vPerY * dv];
}
