import { inverseMap, mapPoint, type PlaneMap } from './plane-map.js';
import type { CameraSpec } from './scene.js';

const FILM_DIAGONAL_MM = 43.267;
const rad = (deg: number): number => (deg * Math.PI) / 180;

export interface PinholeCamera {
  readonly focalPx: number;
  readonly tiltDeg: number;
  readonly halfDiagonalPx: number;
  /** Of the lens above the cloth, and the place of the cloth right under it. */
  readonly heightMm: number;
  readonly footMm: readonly [number, number];
  /** Cloth mm to photo px, without the lens's distortion, for a plane heightMm above the cloth. */
  photoFromPlane(heightMm: number): PlaneMap;
  /** Where the lens puts an undistorted photo point. */
  distort(x: number, y: number): [number, number];
  /** Inverse of distort, by Newton's method on the radius. */
  undistort(x: number, y: number): [number, number];
  /** A point of the cloth, or heightMm above it, as the photo shows it. */
  photoFromCloth(u: number, v: number, heightMm?: number): [number, number];
  /** The cloth point seen at a photo point. */
  clothFromPhoto(x: number, y: number): [number, number];
}

/** Camera axes: x right, y down, z forward. The cloth's v points up in an untilted, unrolled photo. */
export function pinholeCamera(spec: CameraSpec): PinholeCamera {
  const { widthPx, heightPx } = spec;
  const halfDiagonalPx = Math.hypot(widthPx, heightPx) / 2;
  const focalPx = (spec.focal35Mm * 2 * halfDiagonalPx) / FILM_DIAGONAL_MM;
  const cx = widthPx / 2;
  const cy = heightPx / 2;
  const turn = cameraFromUpright(spec);

  const photoFromPlane = (heightMm: number): PlaneMap => {
    const [aimU, aimV] = spec.aimMm;
    const column = (x: number, y: number, z: number) =>
      [0, 1, 2].map((r) => turn[r][0] * x + turn[r][1] * y + turn[r][2] * z);
    const alongU = column(1, 0, 0);
    const alongV = column(0, -1, 0);
    const origin = column(-aimU, aimV, -heightMm);
    origin[2] += spec.distanceMm;
    const rows = [0, 1, 2].map((r) => [alongU[r], alongV[r], origin[r]]);
    const photo = [0, 1, 2].map((j) => [
      focalPx * rows[0][j] + cx * rows[2][j],
      focalPx * rows[1][j] + cy * rows[2][j],
      rows[2][j],
    ]);
    const w = photo[2][2];
    return [0, 1, 2].flatMap((r) => photo.map((c) => c[r] / w));
  };

  const distort = (x: number, y: number): [number, number] => {
    const r2 = ((x - cx) ** 2 + (y - cy) ** 2) / halfDiagonalPx ** 2;
    const gain = 1 + spec.k1 * r2;
    return [cx + (x - cx) * gain, cy + (y - cy) * gain];
  };
  const undistort = (x: number, y: number): [number, number] => {
    if (spec.k1 === 0) return [x, y];
    const gain = undistortGain(spec.k1, ((x - cx) ** 2 + (y - cy) ** 2) / halfDiagonalPx ** 2);
    return [cx + (x - cx) * gain, cy + (y - cy) * gain];
  };

  const clothPlane = photoFromPlane(0);
  const clothFromUndistorted = inverseMap(clothPlane);
  return {
    focalPx,
    halfDiagonalPx,
    heightMm: spec.distanceMm * turn[2][2],
    footMm: [spec.aimMm[0] - spec.distanceMm * turn[2][0], spec.aimMm[1] + spec.distanceMm * turn[2][1]],
    tiltDeg: (Math.acos(Math.min(1, turn[2][2])) * 180) / Math.PI,
    photoFromPlane,
    distort,
    undistort,
    photoFromCloth: (u, v, heightMm = 0) =>
      distort(...mapPoint(heightMm === 0 ? clothPlane : photoFromPlane(heightMm), u, v)),
    clothFromPhoto: (x, y) => mapPoint(clothFromUndistorted, ...undistort(x, y)),
  };
}

/** Factor g with g (1 + k1 g^2 r2) = 1, r2 being the squared distorted radius in half-diagonals. */
export function undistortGain(k1: number, r2: number): number {
  let gain = 1;
  for (let i = 0; i < 4; i++) {
    const k = k1 * r2 * gain * gain;
    gain -= (gain * (1 + k) - 1) / (1 + 3 * k);
  }
  return gain;
}

function cameraFromUpright({ tiltDeg, rollDeg }: CameraSpec): number[][] {
  const [cr, sr] = [Math.cos(rad(rollDeg)), Math.sin(rad(rollDeg))];
  const [ca, sa] = [Math.cos(rad(tiltDeg[0])), Math.sin(rad(tiltDeg[0]))];
  const [cb, sb] = [Math.cos(rad(tiltDeg[1])), Math.sin(rad(tiltDeg[1]))];
  const roll = [
    [cr, sr, 0],
    [-sr, cr, 0],
    [0, 0, 1],
  ];
  const tilt = [
    [cb, 0, sb],
    [sa * sb, ca, -sa * cb],
    [-ca * sb, sa, ca * cb],
  ];
  return tilt.map((row) => [0, 1, 2].map((j) => row.reduce((sum, value, k) => sum + value * roll[k][j], 0)));
}
