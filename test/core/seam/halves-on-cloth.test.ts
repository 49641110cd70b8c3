import { describe, expect, it } from 'vitest';
import { clothFromGarment, garmentFromCloth } from '../../../src/core/model/half-on-cloth.js';
import { HALF_REACH, halfOutline, halvesOnCloth } from '../../../src/core/seam/halves-on-cloth.js';
import { LAYS } from '../../../src/core/seam/lay.js';
import type { SeamRequest } from '../../../src/core/seam/seam-request.js';

const request: SeamRequest = {
  leftDeg: 45,
  rightDeg: 45,
  centre: 0,
  atMm: 200,
  seamMm: 400,
  shiftMm: 0,
  point: 'down',
  lay: 'head-to-tail',
};
const from = { left: { uMm: -60, vMm: 4 }, right: { uMm: 71, vMm: 9 } };
const ALLOWANCE = 15;

describe('halvesOnCloth', () => {
  it.each(LAYS.flatMap((lay) => [30, 45, 60, 90].map((deg) => [lay, deg] as const)))(
    'lays %s halves at %d degrees so that no point of the cloth is cut twice, their allowances included',
    (lay, deg) => {
      const asked = { ...request, lay, leftDeg: deg, rightDeg: deg };
      const { left, right } = halvesOnCloth(asked, from, ALLOWANCE, null);
      let both = 0;
      let inLeft = 0;
      for (let x = -HALF_REACH * 400 - ALLOWANCE; x <= ALLOWANCE; x += 4) {
        for (let y = -ALLOWANCE; y <= 400 + ALLOWANCE; y += 4) {
          const [u, v] = clothFromGarment(left, x, y);
          const [rx, ry] = garmentFromCloth(right, u, v);
          inLeft++;
          const inRight =
            rx >= -ALLOWANCE &&
            rx <= HALF_REACH * 400 + ALLOWANCE &&
            ry >= -ALLOWANCE &&
            ry <= 400 + ALLOWANCE;
          if (inRight) both++;
        }
      }
      expect(inLeft).toBeGreaterThan(1000);
      expect(both).toBe(0);
    },
  );

  it('keeps each half on its bands, and on a print moves it by whole repeats of that', () => {
    const step = 38;
    const { left, right, places } = halvesOnCloth(request, from, ALLOWANCE, step);
    expect([places.left.uMm, places.right.uMm]).toEqual([-60, 71]);
    for (const moved of [places.left.vMm - 4, places.right.vMm - 9]) {
      expect(moved / step).toBeCloseTo(Math.round(moved / step), 9);
    }
    // The ring of either half lies on its place.
    const ring = [clothFromGarment(left, 0, request.atMm), clothFromGarment(right, 0, request.atMm)];
    expect(ring[0].map((x) => Number(x.toFixed(9)))).toEqual([-60, places.left.vMm]);
    expect(ring[1].map((x) => Number(x.toFixed(9)))).toEqual([71, places.right.vMm]);
  });

  it('leaves halves alone that lie apart already', () => {
    const far = { left: { uMm: -500, vMm: 0 }, right: { uMm: 500, vMm: 0 } };
    expect(halvesOnCloth(request, far, ALLOWANCE, null).places).toEqual(far);
  });

  it('draws a half with its seam first, on its own side of the seam', () => {
    const { left } = halvesOnCloth(request, from, ALLOWANCE, null);
    const inGarment = halfOutline(left, 400, -1).map(([u, v]) => garmentFromCloth(left, u, v));
    const expected = [
      [0, 0],
      [0, 400],
      [-144, 400],
      [-144, 0],
    ];
    inGarment.forEach(([x, y], k) => {
      expect(x).toBeCloseTo(expected[k][0], 6);
      expect(y).toBeCloseTo(expected[k][1], 6);
    });
  });
});
