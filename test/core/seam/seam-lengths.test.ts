import { describe, expect, it } from 'vitest';
import {
  alongSeamMm,
  cotDeg,
  cutEdgeMatch,
  drift,
  enclosedDeg,
} from '../../../src/core/seam/seam-lengths.js';

// Plane trigonometry worked out apart from the code: phi, s/p, s for p = 24, arms, d = 1, e cot phi, exact
// drift per +1 degree over 100 mm, 2 a cot phi for a = 15.
const TABLE = `
15    3.863703  92.729   30  3.864  3.732  6.102  111.96
22.5  2.613126  62.715   45  2.613  2.414  4.029   72.43
30    2.000000  48.000   60  2.000  1.732  2.920   51.96
45    1.414214  33.941   90  1.414  1.000  1.701   30.00
60    1.154701  27.713  120  1.155  0.577  0.983   17.32
75    1.035276  24.847  150  1.035  0.268  0.450    8.04
90    1.000000  24.000  180  1.000  0.000  0.015    0.00`
  .trim()
  .split('\n')
  .map(
    (row) => row.split(/\s+/).map(Number) as [number, number, number, number, number, number, number, number],
  );

describe('stripes along a seam', () => {
  it.each(TABLE)('at %f degrees', (deg, ratio, of24, arms, slip, tooDeep, drifted, cutEdge) => {
    expect(alongSeamMm(1, deg)).toBeCloseTo(ratio, 6);
    expect(alongSeamMm(24, deg)).toBeCloseTo(of24, 3);
    expect(enclosedDeg(deg, deg)).toBe(arms);
    expect(alongSeamMm(1, deg)).toBeCloseTo(slip, 3);
    expect(cotDeg(deg)).toBeCloseTo(tooDeep, 3);
    expect(Math.abs(drift(20, deg, deg + 1)?.per100Mm ?? Number.NaN)).toBeCloseTo(drifted, 3);
    expect(cutEdgeMatch(15, deg, deg).runOnMismatchMm).toBeCloseTo(cutEdge, 2);
    expect(cutEdgeMatch(15, deg, deg).mirroredMismatchMm).toBe(0);
    expect(cutEdgeMatch(15, deg, deg).pointsMoveMm).toBeCloseTo(15 * cotDeg(deg), 9);
  });

  // Repeat 20 mm: difference a repeat, drift at 500 mm of seam, seam length to half a repeat out.
  it.each([
    [45, 44, 0.507, 8.96, 803],
    [45, 43, 1.041, 18.41, 398],
    [45, 40, 2.83, 50.03, 155],
    [30, 29, 1.253, 15.67, 658],
    [60, 59, 0.239, 5.17, 1129],
    [90, 88, 0.012, 0.3, 16415],
  ])('drifts between %f and %f degrees', (left, right, perRepeat, at500, half) => {
    const found = drift(20, left, right);
    expect(found?.perRepeatMm).toBeCloseTo(perRepeat, 3);
    expect(5 * (found?.per100Mm ?? 0)).toBeCloseTo(at500, 1.9);
    // Printed to the whole mm, not always rounded.
    expect(Math.abs((found?.halfRepeatAtMm ?? 0) - half)).toBeLessThan(1);
  });

  it('does not drift between equal angles', () => {
    expect(drift(20, 33, 33)).toBeNull();
  });
});
