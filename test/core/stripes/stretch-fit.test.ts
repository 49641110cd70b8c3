import { describe, expect, it } from 'vitest';
import { fitStretch, repeatAt } from '../../../src/core/stripes/stretch-fit.js';

const OFFSETS = [0, 0.3, 0.45];
const COUNTS = Array.from({ length: 24 }, (_, i) => i - 4);
const timeOf = (count: number): number => Math.floor(count / 3) + OFFSETS[((count % 3) + 3) % 3];

describe('fitStretch', () => {
  it('returns the parabola that the edges lie on, whatever is not counted', () => {
    const at = (t: number): number => 140 + 61 * t + 1.7 * t * t;
    const fit = fitStretch(
      COUNTS.map((c, i) => (i === 7 ? 9999 : at(timeOf(c)))),
      COUNTS.map((c, i) => (i === 7 ? null : c)),
      OFFSETS,
    )!;
    expect(fit.from).toBeCloseTo(140, 6);
    expect(fit.step).toBeCloseTo(61, 6);
    expect(fit.bend).toBeCloseTo(1.7, 6);
    expect(repeatAt(fit, at(3))).toBeCloseTo(61 + 2 * 1.7 * 3, 6);
  });

  it('asks for no stretch where less than a repeat and a half is in view', () => {
    const fit = fitStretch([10, 40, 55, 110], [0, 1, 2, 3], OFFSETS)!;
    expect(fit.bend).toBe(0);
    expect(fit.step).toBeCloseTo(100, 6);
  });

  it('has no answer for edges of one place', () => {
    expect(fitStretch([10, 10, 10], [3, 3, 3], OFFSETS)).toBeNull();
    expect(fitStretch([10, 40], [0, 1], OFFSETS)).toBeNull();
  });
});
