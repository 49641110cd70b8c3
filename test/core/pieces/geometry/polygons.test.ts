import { describe, expect, it } from 'vitest';
import { areaMm2, type Outline, perimeterMm } from '../../../../src/core/pieces/geometry/outline.js';
import {
  areaOutsideMm2,
  contains,
  offsetOutline,
  partBeside,
  simplifiedOutline,
} from '../../../../src/core/pieces/geometry/polygons.js';

/** A regular polygon of n corners about the origin. */
const regular = (n: number, radius: number): Outline =>
  Array.from({ length: n }, (_, k) => [
    radius * Math.cos((2 * Math.PI * k) / n),
    radius * Math.sin((2 * Math.PI * k) / n),
  ]);

describe('offsetOutline', () => {
  // Steiner's formula for a convex polygon, mitred: A + P d + d^2 sum tan(turn / 2); with arcs for corners the last term is pi d^2,
  // which a polygon of many corners comes to (J. Steiner, Ueber parallele Flaechen, 1840).
  it.each([
    [4, 4],
    [6, 6 * Math.tan(Math.PI / 6)],
    [360, Math.PI],
  ])('grows a regular polygon of %i corners as Steiner says', (n, corners) => {
    const outline = regular(n, 300);
    const d = 15;
    const expected = areaMm2(outline) + perimeterMm(outline) * d + corners * d * d;
    expect(areaMm2(offsetOutline(outline, d))).toBeCloseTo(expected, n === 360 ? -1 : 0);
    expect(areaMm2(offsetOutline([...outline].reverse(), d))).toBeCloseTo(expected, n === 360 ? -1 : 0);
  });

  // Tip of a mitre: d / sin(half the corner's angle) from the corner.
  const corner = (deg: number): Outline => {
    const half = (deg * Math.PI) / 360;
    return [
      [0, 0],
      [400, -400 * Math.tan(half)],
      [400, 400 * Math.tan(half)],
    ];
  };
  it('mitres a corner up to 2.5 allowances and cuts it square beyond', () => {
    const limitDeg = (2 * Math.asin(1 / 2.5) * 180) / Math.PI;
    const tipMm = (deg: number): number => Math.max(...offsetOutline(corner(deg), 10).map(([x]) => -x));
    expect(tipMm(limitDeg + 0.5)).toBeCloseTo(10 / Math.sin(((limitDeg + 0.5) * Math.PI) / 360), 2);
    expect(tipMm(limitDeg - 0.5)).toBeCloseTo(10, 2);
  });

  it('moves in and out again to the same outline', () => {
    const outline = regular(5, 200);
    const back = offsetOutline(offsetOutline(outline, -12), 12);
    expect(areaOutsideMm2(back, outline) + areaOutsideMm2(outline, back)).toBeLessThan(0.5);
    expect(offsetOutline(outline, -300)).toEqual([]);
    expect(() => offsetOutline(outline, Number.NaN)).toThrow(/expected a length/);
  });
});

describe('outlines laid over one another', () => {
  const square: Outline = [
    [0, 0],
    [100, 0],
    [100, 100],
    [0, 100],
  ];

  it('tells how much of one lies outside another', () => {
    expect(
      areaOutsideMm2(
        square,
        square.map(([x, y]) => [x + 30, y]),
      ),
    ).toBeCloseTo(3000, 2);
  });

  it('cuts off what lies beyond a line', () => {
    expect(areaMm2(partBeside(square, [30, 0], [30, 1], [90, 50]))).toBeCloseTo(7000, 2);
    expect(areaMm2(partBeside(square, [30, 1], [30, 0], [0, 50]))).toBeCloseTo(3000, 2);
  });

  it('knows inside, on the line, outside', () => {
    expect([contains(square, [50, 50]), contains(square, [100, 50]), contains(square, [101, 50])]).toEqual([
      true,
      true,
      false,
    ]);
  });

  it('leaves out points no further off than allowed', () => {
    const circle = regular(720, 250);
    const few = simplifiedOutline(circle, 0.1);
    expect(few.length).toBeLessThan(200);
    // Sagitta r (1 - cos(pi / n)) of the polygon that is left, each of its corners on the circle.
    for (const [x, y] of few) expect(Math.hypot(x, y)).toBeCloseTo(250, 3);
    expect(areaOutsideMm2(circle, few)).toBeLessThan(0.1 * perimeterMm(circle));
  });
});
