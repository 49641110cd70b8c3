import { invert3, type Matrix3, multiply3, type Point } from '../math/matrix3.js';

/**
 * A pinhole camera over the flat cloth, as few numbers as say it all. Picture px, corner-origin; principal point at the
 * picture's centre; lens curvature x_d = c + (x - c)(1 + k1 r^2), r in half-diagonals, as in the band model.
 */
export interface CameraPlane {
  readonly widthPx: number;
  readonly heightPx: number;
  readonly focalPx: number;
  /** The plane's normal is (tiltX, tiltY, 1) in camera axes (x right, y down, z into the scene). */
  readonly tiltX: number;
  readonly tiltY: number;
  /** Direction of the stripes within the plane: angle of v, radians, in the plane's own axes. */
  readonly spin: number;
  /** Distance from the camera to the plane along the optical axis, mm. */
  readonly distanceMm: number;
  readonly k1: number;
}

/** Undistorted picture px -> cloth mm (u, v). Origin: where the optical axis meets the cloth. */
export function clothFromUndistorted(camera: CameraPlane): Matrix3 {
  const { widthPx, heightPx, focalPx, tiltX, tiltY, spin, distanceMm } = camera;
  const length = Math.hypot(tiltX, tiltY, 1);
  const nx = tiltX / length;
  const ny = tiltY / length;
  const nz = 1 / length;
  // Least rotation that takes the normal to the z axis.
  const k = 1 / (1 + nz);
  const rotate: Matrix3 = [
    1 - k * nx * nx,
    -k * nx * ny,
    -nx,
    -k * nx * ny,
    1 - k * ny * ny,
    -ny,
    nx,
    ny,
    nz,
  ];
  const rays: Matrix3 = [
    1 / focalPx,
    0,
    -widthPx / 2 / focalPx,
    0,
    1 / focalPx,
    -heightPx / 2 / focalPx,
    0,
    0,
    1,
  ];
  const inPlane = multiply3(rotate, rays);
  // Third row is normal . ray; the point in the plane is scaled by (distance to the plane) / (normal . ray).
  const scale = distanceMm * nz;
  const plane: Matrix3 = [
    inPlane[0] * scale,
    inPlane[1] * scale,
    inPlane[2] * scale,
    inPlane[3] * scale,
    inPlane[4] * scale,
    inPlane[5] * scale,
    inPlane[6],
    inPlane[7],
    inPlane[8],
  ];
  // v = (cos, -sin) of spin in x-right, y-down axes; u is v turned clockwise as seen. Then the axis' point to the origin.
  const c = Math.cos(spin);
  const s = Math.sin(spin);
  const turned = multiply3([s, c, 0, c, -s, 0, 0, 0, 1], plane);
  const w = turned[6] * (widthPx / 2) + turned[7] * (heightPx / 2) + turned[8];
  const u0 = (turned[0] * (widthPx / 2) + turned[1] * (heightPx / 2) + turned[2]) / w;
  const v0 = (turned[3] * (widthPx / 2) + turned[4] * (heightPx / 2) + turned[5]) / w;
  return multiply3([1, 0, -u0, 0, 1, -v0, 0, 0, 1], turned);
}

export const tiltDegOf = ({ tiltX, tiltY }: CameraPlane): number =>
  (Math.atan(Math.hypot(tiltX, tiltY)) * 180) / Math.PI;

/**
 * By how much a distorted radius shrinks when the lens curvature is undone: the s with s (1 + t s^2) = 1, where t = k1 r_d^2 with r_d
 * the distorted radius in half-diagonals. Series start and two Newton steps: exact to 1e-12 for |t| < 0.1.
 */
export function undistortionScale(t: number): number {
  let s = 1 - t + 3 * t * t;
  s -= (s + t * s * s * s - 1) / (1 + 3 * t * s * s);
  s -= (s + t * s * s * s - 1) / (1 + 3 * t * s * s);
  return s;
}

/** Undoes the lens curvature: distorted -> undistorted picture px. */
export function undistorted(x: number, y: number, widthPx: number, heightPx: number, k1: number): Point {
  if (k1 === 0) return [x, y];
  const cx = widthPx / 2;
  const cy = heightPx / 2;
  const dx = x - cx;
  const dy = y - cy;
  const s = undistortionScale((k1 * (dx * dx + dy * dy)) / (cx * cx + cy * cy));
  return [cx + dx * s, cy + dy * s];
}

/** Puts the lens curvature on. */
export function distorted(x: number, y: number, widthPx: number, heightPx: number, k1: number): Point {
  const cx = widthPx / 2;
  const cy = heightPx / 2;
  const dx = x - cx;
  const dy = y - cy;
  const f = 1 + (k1 * (dx * dx + dy * dy)) / (cx * cx + cy * cy);
  return [cx + dx * f, cy + dy * f];
}

/** Picture px <-> cloth mm with the lens in. */
export interface ClothMap {
  readonly clothFromPicture: (x: number, y: number) => Point;
  readonly pictureFromCloth: (u: number, v: number) => Point;
}

export function clothMap(camera: CameraPlane): ClothMap {
  const forward = clothFromUndistorted(camera);
  const back = invert3(forward);
  const { widthPx, heightPx, k1 } = camera;
  return {
    clothFromPicture: (x, y) => {
      const p = undistorted(x, y, widthPx, heightPx, k1);
      const w = forward[6] * p[0] + forward[7] * p[1] + forward[8];
      return [
        (forward[0] * p[0] + forward[1] * p[1] + forward[2]) / w,
        (forward[3] * p[0] + forward[4] * p[1] + forward[5]) / w,
      ];
    },
    pictureFromCloth: (u, v) => {
      const w = back[6] * u + back[7] * v + back[8];
      return distorted(
        (back[0] * u + back[1] * v + back[2]) / w,
        (back[3] * u + back[4] * v + back[5]) / w,
        widthPx,
        heightPx,
        k1,
      );
    },
  };
}
