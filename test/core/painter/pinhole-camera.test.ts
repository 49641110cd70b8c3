import { describe, expect, it } from 'vitest';
import { plainScene } from '../../support/painted-scene.js';
import { pinholeCamera } from '../../support/photo-painter/pinhole-camera.js';
import type { CameraSpec } from '../../support/photo-painter/scene.js';

/** f = 3000 px on 4032 x 3024, as in the worked tables. */
const camera = (change: Partial<CameraSpec>) =>
  pinholeCamera({
    ...plainScene().camera,
    widthPx: 4032,
    heightPx: 3024,
    focal35Mm: (3000 / 5040) * 43.267,
    distanceMm: 600,
    ...change,
  });

describe('the painted camera', () => {
  it('brings every photo point back to itself through the cloth, lens curvature included', () => {
    const subject = camera({ tiltDeg: [7, -11], rollDeg: 33, k1: -0.04, aimMm: [20, -5] });
    for (const x of [0, 700, 2016, 4032])
      for (const y of [0, 1111, 3024]) {
        const [u, v] = subject.clothFromPhoto(x, y);
        const [backX, backY] = subject.photoFromCloth(u, v);
        expect(backX).toBeCloseTo(x, 6);
        expect(backY).toBeCloseTo(y, 6);
      }
  });

  it('tilts by the angle between its axis and the cloth', () => {
    // Turned 6 degrees about x and 4 about y: cos t = cos 6 cos 4, 7.2070 degrees.
    expect(camera({ tiltDeg: [6, -4] }).tiltDeg).toBeCloseTo(7.207, 4);
  });

  // Scale at x = 2016 px from the middle, f = 3000 px, over its value there: across the tilt
  // 1 - (x / f) tan t, along it the square of that. Forsyth and Ponce, Computer Vision, perspective of a plane.
  it.each([
    [0.5, 0.0059],
    [1, 0.0117],
    [2, 0.0235],
    [5, 0.0588],
    [10, 0.1185],
  ])('at %s degrees the scale at the edge is off by %s across the tilt', (tilt, off) => {
    const subject = camera({ tiltDeg: [0, tilt] });
    const pxPerMm = (x: number, dx: number, dy: number) => {
      const [u0, v0] = subject.clothFromPhoto(x - dx, 1512 - dy);
      const [u1, v1] = subject.clothFromPhoto(x + dx, 1512 + dy);
      return 2 / Math.hypot(u1 - u0, v1 - v0);
    };
    const across = Math.abs(pxPerMm(4032, 0, 1) / pxPerMm(2016, 0, 1) - 1);
    const along = pxPerMm(4032, 1, 0) / pxPerMm(2016, 1, 0);
    expect(across).toBeCloseTo(off, 3);
    const transverse = pxPerMm(4032, 0, 1) / pxPerMm(2016, 0, 1);
    expect(along).toBeCloseTo(transverse ** 2, 4);
  });

  it('shows a plane h nearer larger by h / (Z - h)', () => {
    const subject = camera({});
    const length = (height: number) =>
      subject.photoFromCloth(100, 0, height)[0] - subject.photoFromCloth(0, 0, height)[0];
    expect(length(2) / length(0)).toBeCloseTo(600 / 598, 9);
  });

  it('turns the cloth counter-clockwise as seen', () => {
    const subject = camera({ rollDeg: 30 });
    const [x0, y0] = subject.photoFromCloth(0, 0);
    const [x1, y1] = subject.photoFromCloth(10, 0);
    expect((Math.atan2(y0 - y1, x1 - x0) * 180) / Math.PI).toBeCloseTo(30, 9);
  });
});
