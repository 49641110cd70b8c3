import { describe, expect, it } from 'vitest';
import { transformPoint } from '../../../src/core/math/matrix3.js';
import {
  type CameraPlane,
  clothFromUndistorted,
  clothMap,
  distorted,
  tiltDegOf,
  undistorted,
} from '../../../src/core/rectify/camera-plane.js';

/**
 * Worked case, plane rectification with known focal length (Hartley and Zisserman ch. 8): f = 3000, centre (2016, 1512),
 * R = Ry(-4 deg) Rx(6 deg), distance 600: normal (-0.069374, -0.104528, 0.992099), tilt 7.2070 deg, 5.03982 px/mm.
 */
const worked: CameraPlane = {
  widthPx: 4032,
  heightPx: 3024,
  focalPx: 3000,
  tiltX: -0.069374 / 0.992099,
  tiltY: -0.104528 / 0.992099,
  spin: 0,
  distanceMm: 600,
  k1: 0,
};

describe('clothFromUndistorted', () => {
  it('has the tilt of the worked case', () => {
    expect(tiltDegOf(worked)).toBeCloseTo(7.207, 3);
  });

  it('is isotropic on the plane: rays to a known square come back square', () => {
    // A square of 100 mm on the plane, built in space from the normal alone.
    const n = [-0.069374, -0.104528, 0.992099];
    const e1 = [n[2], 0, -n[0]].map((v) => v / Math.hypot(n[2], n[0]));
    const e2 = [n[1] * e1[2] - n[2] * e1[1], n[2] * e1[0] - n[0] * e1[2], n[0] * e1[1] - n[1] * e1[0]];
    const corner = (a: number, b: number) => {
      const p = [0, 1, 2].map((i) => (i === 2 ? 600 : 0) + a * e1[i] + b * e2[i]);
      return transformPoint(clothFromUndistorted(worked), [
        2016 + (3000 * p[0]) / p[2],
        1512 + (3000 * p[1]) / p[2],
      ]);
    };
    const [p, q, r, s] = [corner(0, 0), corner(100, 0), corner(100, 100), corner(0, 100)];
    const length = (a: readonly number[], b: readonly number[]) => Math.hypot(a[0] - b[0], a[1] - b[1]);
    for (const [a, b] of [
      [p, q],
      [q, r],
      [r, s],
      [s, p],
    ])
      expect(length(a, b)).toBeCloseTo(100, 3);
    expect(length(p, r)).toBeCloseTo(100 * Math.SQRT2, 3);
  });

  it('puts the origin at the optical axis and v where spin says, counter-clockwise as seen', () => {
    const level = { ...worked, tiltX: 0, tiltY: 0, spin: Math.PI / 6 };
    const map = clothMap(level);
    expect(Math.hypot(...map.clothFromPicture(2016, 1512))).toBeLessThan(1e-9);
    const [u, v] = map.clothFromPicture(
      2016 + 500 * Math.cos(Math.PI / 6),
      1512 - 500 * Math.sin(Math.PI / 6),
    );
    expect(u).toBeCloseTo(0, 9);
    expect(v).toBeCloseTo(100, 9);
    // u is v turned clockwise as seen.
    const [u2, v2] = map.clothFromPicture(
      2016 + 500 * Math.sin(Math.PI / 6),
      1512 + 500 * Math.cos(Math.PI / 6),
    );
    expect(u2).toBeCloseTo(100, 9);
    expect(v2).toBeCloseTo(0, 9);
  });

  it('comes back to where it started, lens and all', () => {
    const { clothFromPicture, pictureFromCloth } = clothMap({ ...worked, spin: 1.1, k1: 0.02 });
    for (const [x, y] of [
      [10, 20],
      [2016, 1512],
      [4000, 3000],
      [3900, 40],
    ]) {
      const [u, v] = clothFromPicture(x, y);
      const back = pictureFromCloth(u, v);
      expect(Math.hypot(back[0] - x, back[1] - y)).toBeLessThan(1e-6);
    }
  });
});

describe('lens curvature', () => {
  it('follows x_d = c + (x - c)(1 + k1 r^2), r in half-diagonals, and is undone', () => {
    expect(distorted(4032, 3024, 4032, 3024, 0.01)).toEqual([4032 + 20.16, 3024 + 15.12]);
    for (const k1 of [-0.05, 0.011, 0.05]) {
      const [x, y] = undistorted(3500, 200, 4032, 3024, k1);
      const back = distorted(x, y, 4032, 3024, k1);
      expect(Math.hypot(back[0] - 3500, back[1] - 200)).toBeLessThan(1e-5);
    }
  });
});
