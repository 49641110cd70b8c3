import { describe, expect, it } from 'vitest';
import { refusalLine } from '../../../src/core/base/outcome.js';
import { homographyFromPoints } from '../../../src/core/math/homography.js';
import { type Matrix3, type Point, stretchAt, transformPoint } from '../../../src/core/math/matrix3.js';
import type { Photo } from '../../../src/core/raster/photo.js';
import { raster } from '../../../src/core/raster/raster.js';
import { referenceFromCorners } from '../../../src/core/reference/reference-from-corners.js';
import { clockwise } from '../../../src/core/reference/sheet-pose.js';
import { seededRandom } from '../../support/photo-painter/seeded-random.js';

const photo: Photo = {
  picture: raster(400, 300, 1, new Uint8Array(400 * 300)),
  photoPerPicture: 10,
  widthPx: 4000,
  heightPx: 3000,
  focal35Mm: 43.267,
};
/** The focal length is one diagonal: 500 px. */
const focalPx = 500;

/** A camera turned by `tiltDeg` about a slanting axis, `distanceMm` above the middle of the sheet. */
function cornersSeen(
  longMm: number,
  shortMm: number,
  tiltDeg: number,
  rollDeg: number,
  distanceMm: number,
): Point[] {
  const [t, r] = [(tiltDeg * Math.PI) / 180, (rollDeg * Math.PI) / 180];
  return [
    [0, 0],
    [longMm, 0],
    [longMm, shortMm],
    [0, shortMm],
  ].map(([a, b]): Point => {
    const x = (a - longMm / 2) * Math.cos(r) - (b - shortMm / 2) * Math.sin(r);
    const y = (a - longMm / 2) * Math.sin(r) + (b - shortMm / 2) * Math.cos(r);
    const depth = distanceMm + y * Math.sin(t);
    return [200 + (focalPx * x) / depth, 150 + (focalPx * y * Math.cos(t)) / depth];
  });
}

describe('referenceFromCorners', () => {
  it.each([
    ['a4', 297, 210, 0, 0],
    ['a4', 297, 210, 15, 40],
    ['letter', 279.4, 215.9, 12, 100],
    ['id1', 85.6, 53.98, 8, 200],
  ] as const)(
    'gives the plane of %s, %d x %d mm, tilted by %d, turned by %d',
    (size, long, short, tilt, roll) => {
      const corners = cornersSeen(long, short, tilt, roll, 700);
      const outcome = referenceFromCorners(photo, corners, size, 0.2);
      if (!outcome.ok) expect.fail(refusalLine(outcome.refusal));
      const reference = outcome.value;
      const planeFromPicture = homographyFromPoints(
        reference.marks.map((mark) => mark.picture),
        reference.marks.map((mark) => mark.planeMm),
      ) as Matrix3;
      // Diagonals and sides are those of the sheet, but for its face lying nearer to the camera than the cloth.
      const [p, q, r] = corners.map((corner) => transformPoint(planeFromPicture, corner));
      const thick = size === 'id1' ? 0.76 : 0.1;
      expect(Math.hypot(p[0] - q[0], p[1] - q[1]) / (1 + thick / 700)).toBeCloseTo(long, 1);
      expect(Math.hypot(q[0] - r[0], q[1] - r[1]) / (1 + thick / 700)).toBeCloseTo(short, 1);
      // Seen from above as in the photo, not mirrored.
      const [a, b, c, d] = stretchAt(planeFromPicture, [200, 150]);
      expect(a * d - b * c).toBeGreaterThan(0);
      expect(reference.pxPerMm).toBeCloseTo(focalPx / 700, 1);
      expect(reference.lengthMm).toBe(long);
      expect(reference.source).toBe(size === 'id1' ? 'card' : 'sheet');
    },
  );

  it('takes the corners in either direction round the sheet and from any of them', () => {
    const corners = cornersSeen(297, 210, 10, 25, 700);
    const first = referenceFromCorners(photo, corners, 'a4', 0.2);
    for (let shift = 0; shift < 4; shift++) {
      const turned = [0, 1, 2, 3].map((k) => corners[(k + shift) % 4]);
      for (const order of [turned, [...turned].reverse()]) {
        const outcome = referenceFromCorners(photo, order, 'a4', 0.2);
        if (!outcome.ok || !first.ok) expect.fail('refused');
        expect(outcome.value.pxPerMm).toBeCloseTo(first.value.pxPerMm, 9);
      }
    }
  });

  it('states an error that covers what corners that much off do to the scale', () => {
    const random = seededRandom(9);
    const corners = cornersSeen(85.6, 53.98, 6, 30, 700);
    const scales: number[] = [];
    let stated = 0;
    for (let k = 0; k < 300; k++) {
      const moved = corners.map(
        (p): Point => [p[0] + 0.2 * random.gaussian(), p[1] + 0.2 * random.gaussian()],
      );
      const outcome = referenceFromCorners(photo, moved, 'id1', 0.2);
      if (!outcome.ok) expect.fail(refusalLine(outcome.refusal));
      scales.push(outcome.value.pxPerMm);
      stated = outcome.value.relativeSd;
    }
    const mean = scales.reduce((sum, v) => sum + v, 0) / scales.length;
    const spread = Math.sqrt(scales.reduce((sum, v) => sum + (v - mean) ** 2, 0) / scales.length) / mean;
    expect(stated / spread).toBeGreaterThan(0.8);
    expect(stated / spread).toBeLessThan(1.6);
  });

  it('refuses corners of another shape, and corners that go round nothing', () => {
    const letter = referenceFromCorners(photo, cornersSeen(279.4, 215.9, 5, 10, 700), 'a4', 0.2);
    expect(!letter.ok && refusalLine(letter.refusal)).toBe(
      'The corners have sides 1.29 to 1, an A4 sheet has 1.41 to 1: check the corners, and which sheet it is',
    );
    const flat: Point[] = [0, 1, 2, 3].map((k): Point => [10 * k, 20 * k]);
    expect(referenceFromCorners(photo, flat, 'a4', 0.2).ok).toBe(false);
    const dart: Point[] = [
      [0, 0],
      [100, 0],
      [30, 20],
      [0, 100],
    ];
    expect(referenceFromCorners(photo, dart, 'a4', 0.2).ok).toBe(false);
    expect(referenceFromCorners(photo, flat.slice(1), 'a4', 0.2).ok).toBe(false);
  });
});

describe('clockwise', () => {
  it('gives convex corners in one winding, the first given first, whatever their order', () => {
    const square: Point[] = [
      [0, 0],
      [4, 1],
      [5, 6],
      [-1, 5],
    ];
    const orders = [
      [0, 1, 2, 3],
      [0, 3, 2, 1],
      [0, 2, 1, 3],
      [0, 1, 3, 2],
    ];
    for (const order of orders) expect(clockwise(order.map((k) => square[k]))).toEqual(square);
  });
});
