import { describe, expect, it } from 'vitest';
import { fTailProbability, logGamma } from '../../../src/core/math/f-test.js';

describe('fTailProbability', () => {
  // Upper points of the F distribution as printed in statistical tables (for one: Abramowitz and Stegun 1964, table 26.9).
  it.each([
    [161.4, 1, 1, 0.05],
    [4.96, 1, 10, 0.05],
    [10.04, 1, 10, 0.01],
    [3.33, 5, 10, 0.05],
    [2.98, 10, 10, 0.05],
    [2.87, 4, 20, 0.05],
    [4.1, 5, 20, 0.01],
    [1.84, 20, 40, 0.05],
    [2.37, 20, 40, 0.01],
  ])('puts the tabled point %f of F(%d, %d) at %f', (f, d1, d2, p) => {
    // Three printed figures leave the probability known to about a hundredth of itself.
    expect(fTailProbability(f, d1, d2) / p).toBeCloseTo(1, 1);
    expect(Math.abs(fTailProbability(f, d1, d2) / p - 1)).toBeLessThan(0.012);
  });

  it('keeps to the closed form for two degrees of freedom above', () => {
    for (const d2 of [3, 8, 41]) {
      for (const f of [0.2, 1, 3.7, 20, 300]) {
        const exact = (1 + (2 * f) / d2) ** (-d2 / 2);
        expect(fTailProbability(f, 2, d2) / exact).toBeCloseTo(1, 9);
      }
    }
  });

  it('keeps to the closed form for one degree of freedom each', () => {
    for (const f of [0.01, 0.5, 1, 9, 1000]) {
      expect(fTailProbability(f, 1, 1)).toBeCloseTo(1 - (2 / Math.PI) * Math.atan(Math.sqrt(f)), 10);
    }
  });

  it('mirrors when the degrees of freedom change places', () => {
    for (const [f, d1, d2] of [
      [0.4, 3, 9],
      [2.2, 12, 7],
      [1, 30, 30],
    ]) {
      expect(fTailProbability(f, d1, d2) + fTailProbability(1 / f, d2, d1)).toBeCloseTo(1, 10);
    }
  });

  it('is certain of nothing at 0 and of everything beyond all bounds', () => {
    expect(fTailProbability(0, 3, 5)).toBe(1);
    expect(fTailProbability(Infinity, 3, 5)).toBe(0);
  });
});

describe('logGamma', () => {
  it('has the factorials and the half-integer values', () => {
    let factorial = 1;
    for (let n = 1; n < 20; n++) {
      expect(logGamma(n)).toBeCloseTo(Math.log(factorial), 10);
      factorial *= n;
    }
    expect(logGamma(0.5)).toBeCloseTo(0.5 * Math.log(Math.PI), 12);
    expect(logGamma(3.5)).toBeCloseTo(Math.log((15 / 8) * Math.sqrt(Math.PI)), 12);
  });
});
