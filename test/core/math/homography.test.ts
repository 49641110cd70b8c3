import { describe, expect, it } from 'vitest';
import { homographyFromPoints } from '../../../src/core/math/homography.js';
import { type Matrix3, type Point, transformPoint } from '../../../src/core/math/matrix3.js';
import { seededRandom } from '../../support/photo-painter/seeded-random.js';

const sheetFromPhoto: Matrix3 = [0.11, -0.013, 4, 0.017, 0.098, -7, 1.3e-5, -2.1e-5, 1];
const grid = (step: number): Point[] =>
  [0, 1, 2, 3].flatMap((i) => [0, 1, 2, 3].map((j): Point => [500 + step * i, 300 + step * j]));

const worst = (h: Matrix3, from: readonly Point[], to: readonly Point[]): number =>
  Math.max(...from.map((p, i) => Math.hypot(...transformPoint(h, p).map((v, k) => v - to[i][k]))));

describe('homographyFromPoints', () => {
  it('is exact for four pairs, wherever they lie', () => {
    const random = seededRandom(5);
    for (let round = 0; round < 50; round++) {
      const photo = [0, 1, 2, 3].map((k): Point => {
        const angle = (k + random.between(-0.35, 0.35)) * (Math.PI / 2);
        return [4000 + 900 * Math.cos(angle), 3000 + 900 * Math.sin(angle)];
      });
      const sheet = photo.map((p) => transformPoint(sheetFromPhoto, p));
      const found = homographyFromPoints(photo, sheet) as Matrix3;
      expect(worst(found, photo, sheet)).toBeLessThan(1e-7);
      expect(Math.abs(found[0] - sheetFromPhoto[0])).toBeLessThan(1e-7);
    }
  });

  it('finds the map from many pairs, and its inverse from the pairs exchanged', () => {
    const photo = grid(700);
    const sheet = photo.map((p) => transformPoint(sheetFromPhoto, p));
    expect(worst(homographyFromPoints(photo, sheet) as Matrix3, photo, sheet)).toBeLessThan(1e-9);
    expect(worst(homographyFromPoints(sheet, photo) as Matrix3, sheet, photo)).toBeLessThan(1e-7);
  });

  it('leaves no step that fits better: the squares are least', () => {
    const random = seededRandom(11);
    const photo = grid(700);
    const sheet = photo.map((p): Point => {
      const [x, y] = transformPoint(sheetFromPhoto, p);
      return [x + 2 * random.gaussian(), y + 2 * random.gaussian()];
    });
    const squares = (h: Matrix3): number =>
      photo.reduce((sum, p, i) => {
        const [x, y] = transformPoint(h, p);
        return sum + (x - sheet[i][0]) ** 2 + (y - sheet[i][1]) ** 2;
      }, 0);
    const found = homographyFromPoints(photo, sheet) as Matrix3;
    const least = squares(found);
    for (let k = 0; k < 8; k++) {
      for (const step of [-1e-5, 1e-5]) {
        const moved = found.map((v, i) => (i === k ? v + step * Math.abs(v) : v)) as unknown as Matrix3;
        expect(squares(moved), `element ${k}`).toBeGreaterThanOrEqual(least);
      }
    }
  });

  it('answers null when the pairs fix no map', () => {
    const line: Point[] = [0, 1, 2, 3].map((k): Point => [k, 2 * k]);
    const square: Point[] = [
      [0, 0],
      [1, 0],
      [1, 1],
      [0, 1],
    ];
    const threeOnALine: Point[] = [[0, 0], [1, 0], [2, 0], square[3]];
    expect(homographyFromPoints(line, square)).toBeNull();
    expect(homographyFromPoints(square, line)).toBeNull();
    expect(homographyFromPoints(threeOnALine, square)).toBeNull();
    expect(homographyFromPoints(square, threeOnALine)).toBeNull();
    const allButOne: Point[] = [...line, [9, 40]];
    expect(
      homographyFromPoints(
        allButOne,
        allButOne.map((p) => transformPoint(sheetFromPhoto, p)),
      ),
    ).toBeNull();
    expect(homographyFromPoints([square[0], square[0], square[0], square[0]], square)).toBeNull();
  });

  it('wants four pairs', () => {
    const three: Point[] = grid(1).slice(0, 3);
    expect(() => homographyFromPoints(three, three)).toThrow('expected four or more pairs');
    expect(() => homographyFromPoints(grid(1), three)).toThrow('received 16 and 3 points');
  });
});
