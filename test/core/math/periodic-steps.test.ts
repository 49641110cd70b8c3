import { describe, expect, it } from 'vitest';
import { boxMean, periodicSteps, stepAt } from '../../../src/core/math/periodic-steps.js';
import { seededRandom } from '../../support/photo-painter/seeded-random.js';

const steps = periodicSteps(
  [3, 1, 0.5, 2.5],
  [
    [1, 0],
    [0, 2],
    [5, -1],
    [0.3, 0.3],
  ],
);
const mean = (x: number, a: number, b: number): number[] => {
  const out = new Float64Array(2);
  boxMean(steps, x, a, b, out);
  return [...out];
};

describe('periodic steps', () => {
  it('finds the step of any place, lower edges included', () => {
    expect([0, 2.999, 3, 4, 4.5, 6.999, 7, -0.001, 700.25].map((x) => stepAt(steps, x))).toEqual([
      0, 0, 1, 2, 3, 3, 0, 3, 0,
    ]);
  });

  it('agrees with brute-force sampling under any two boxes', () => {
    const random = seededRandom(11);
    for (let k = 0; k < 60; k++) {
      const x = random.between(-40, 40);
      const [a, b] = [random.between(0.01, 12), random.between(0.01, 12)];
      const n = 300;
      const sum = [0, 0];
      for (let i = 0; i < n; i++) {
        for (let j = 0; j < n; j++) {
          const at = stepAt(steps, x + a * ((i + 0.5) / n - 0.5) + b * ((j + 0.5) / n - 0.5));
          for (const c of [0, 1]) sum[c] += steps.values[2 * at + c] / (n * n);
        }
      }
      const found = mean(x, a, b);
      for (const c of [0, 1]) expect(found[c]).toBeCloseTo(sum[c], 1.8);
    }
  });

  it('gives the whole mean over whole periods, wherever they start, and the value itself over nothing', () => {
    const whole = [(3 * 1 + 0.5 * 5 + 2.5 * 0.3) / 7, (1 * 2 - 0.5 + 2.5 * 0.3) / 7];
    for (const x of [0, 1.3, -8.2, 5000.7]) {
      for (const [a, b] of [
        [7, 0],
        [14, 0.4],
        [21, 3.3],
      ]) {
        for (const [c, v] of mean(x, a, b).entries()) expect(v).toBeCloseTo(whole[c], 9);
      }
    }
    expect(mean(3.5, 0, 0)).toEqual([0, 2]);
  });

  it('passes smoothly from one box to two', () => {
    const one = mean(2.9, 1, 0);
    for (const [c, v] of mean(2.9, 1, 1.0001e-4).entries()) expect(v).toBeCloseTo(one[c], 6);
  });
});
