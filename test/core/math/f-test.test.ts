import { describe, expect, it } from 'vitest';
import { fTailProbability } from '../../../src/core/math/f-test.js';

describe('fTailProbability', () => {
  it('has the closed form (1 + 2 f / d2)^(-d2 / 2) for two degrees of freedom above', () => {
    for (const d2 of [1, 3, 8, 40]) {
      for (const f of [0.1, 1, 4, 30]) {
        expect(fTailProbability(f, 2, d2)).toBeCloseTo((1 + (2 * f) / d2) ** (-d2 / 2), 12);
      }
    }
  });

  it('gives the printed 5 % and 1 % points (Snedecor and Cochran, Statistical Methods, tables of F)', () => {
    expect(fTailProbability(161.45, 1, 1)).toBeCloseTo(0.05, 4);
    expect(fTailProbability(4.9646, 1, 10)).toBeCloseTo(0.05, 4);
    expect(fTailProbability(3.3258, 5, 10)).toBeCloseTo(0.05, 4);
    expect(fTailProbability(5.6363, 5, 10)).toBeCloseTo(0.01, 4);
  });

  it('turns over with its degrees of freedom: P(F > f; a, b) + P(F > 1 / f; b, a) = 1', () => {
    for (const [f, a, b] of [
      [0.3, 4, 9],
      [2.2, 17, 3],
      [1.1, 60, 60],
    ]) {
      expect(fTailProbability(f, a, b) + fTailProbability(1 / f, b, a)).toBeCloseTo(1, 12);
    }
  });
});
