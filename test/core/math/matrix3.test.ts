import { describe, expect, it } from 'vitest';
import {
  determinant3,
  identity3,
  invert3,
  type Matrix3,
  multiply3,
  type Point,
  stretchAt,
  transformPoint,
} from '../../../src/core/math/matrix3.js';

const clothFromPhoto: Matrix3 = [0.11, -0.013, 4, 0.017, 0.098, -7, 1.3e-5, -2.1e-5, 1];
const repeatFromCloth: Matrix3 = [0.04, 0.003, -1, -0.001, 0.05, 2, 1e-4, 3e-4, 1];
const points: Point[] = [
  [0, 0],
  [4032, 0],
  [17.5, 3024],
  [2000, 1500],
];

const near = (a: readonly number[], b: readonly number[]): number =>
  Math.max(...a.map((v, i) => Math.abs(v - b[i])));

describe('matrix3', () => {
  it('there and back is where one was', () => {
    const photoFromCloth = invert3(clothFromPhoto);
    for (const p of points) {
      expect(near(transformPoint(photoFromCloth, transformPoint(clothFromPhoto, p)), p)).toBeLessThan(1e-9);
    }
    expect(near(multiply3(photoFromCloth, clothFromPhoto), identity3)).toBeLessThan(1e-12);
  });

  it('a product is one map after the other', () => {
    const repeatFromPhoto = multiply3(repeatFromCloth, clothFromPhoto);
    for (const p of points) {
      const stepwise = transformPoint(repeatFromCloth, transformPoint(clothFromPhoto, p));
      expect(near(transformPoint(repeatFromPhoto, p), stepwise)).toBeLessThan(1e-9);
    }
    expect(determinant3(repeatFromPhoto)).toBeCloseTo(
      determinant3(repeatFromCloth) * determinant3(clothFromPhoto),
      12,
    );
  });

  it('the stretch is the limit of small steps', () => {
    const h = 1e-3;
    for (const p of points) {
      const at = (dx: number, dy: number): Point => transformPoint(clothFromPhoto, [p[0] + dx, p[1] + dy]);
      const [right, left, down, up] = [at(h, 0), at(-h, 0), at(0, h), at(0, -h)];
      const steps = [right[0] - left[0], down[0] - up[0], right[1] - left[1], down[1] - up[1]];
      expect(
        near(
          stretchAt(clothFromPhoto, p),
          steps.map((s) => s / (2 * h)),
        ),
      ).toBeLessThan(1e-8);
    }
  });

  it('refuses to undo a flat map', () => {
    expect(() => invert3([1, 2, 3, 2, 4, 6, 0, 0, 1])).toThrow('determinant other than 0');
  });
});
