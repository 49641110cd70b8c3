import { describe, expect, it } from 'vitest';
import { fitStep } from '../../../src/core/rectify/fit-step.js';
import { seededRandom } from '../../support/photo-painter/seeded-random.js';

/** The error function's integral by Simpson's rule: a route of its own to the blurred step. */
const blurredStep = (x: number, at: number, sigma: number): number => {
  const n = 400;
  const z = (x - at) / sigma;
  if (z < -8) return 0;
  const h = (z + 8) / n;
  let sum = 0;
  for (let i = 0; i <= n; i++) {
    const t = -8 + i * h;
    sum += (i === 0 || i === n ? 1 : i % 2 ? 4 : 2) * Math.exp((-t * t) / 2);
  }
  return (sum * h) / 3 / Math.sqrt(2 * Math.PI);
};

describe('fitStep', () => {
  it.each([14.3, 18, 21.77])('finds a clean step at %d to a thousandth of a sample', (at) => {
    const samples = Array.from({ length: 40 }, (_, i) => 0.2 + 0.6 * blurredStep(i, at, 1.7));
    const fit = fitStep(samples, 0, 40, 18, 1.7);
    expect(fit?.at).toBeCloseTo(at, 3);
    expect(fit?.low).toBeCloseTo(0.2, 4);
    expect(fit?.high).toBeCloseTo(0.8, 4);
  });

  it('finds the edge of a line three blurs wide, whose other edge bends the level it rises to', () => {
    const [at, width, blur] = [14.3, 5.1, 1.7];
    const samples = Array.from(
      { length: 30 },
      (_, i) => 0.2 + 0.6 * (blurredStep(i, at, blur) - blurredStep(i, at + width, blur)),
    );
    const beside = [{ at: width, height: -1 }];
    const fit = fitStep(samples, 6, 19, 14, blur, beside);
    expect(fit?.at).toBeCloseTo(at, 3);
    expect((fit?.high ?? 0) - (fit?.low ?? 0)).toBeCloseTo(0.6, 3);
    // Of both edges, from either side, alike; and taken for a lone step it would seem wider.
    const mirrored = fitStep(samples, 12, 25, 19, blur, [{ at: -width, height: -1 }]);
    expect(mirrored?.at).toBeCloseTo(at + width, 3);
    expect(fitStep(samples, 10, 17, 14, blur)?.at).toBeLessThan(at - 0.05);
  });

  it('states a standard deviation that its errors keep, and that is near the least possible', () => {
    const random = seededRandom(5);
    const noise = 0.02;
    const errors: number[] = [];
    let stated = 0;
    for (let round = 0; round < 300; round++) {
      const at = random.between(18, 22);
      const samples = Array.from({ length: 40 }, (_, i) => {
        const gauss =
          Math.sqrt(-2 * Math.log(random.between(1e-12, 1))) * Math.cos(2 * Math.PI * random.between(0, 1));
        return blurredStep(i, at, 2) + noise * gauss;
      });
      const fit = fitStep(samples, 0, 40, 20, 2);
      errors.push(fit!.at - at);
      stated += fit!.sd / 300;
    }
    const sd = Math.hypot(...errors) / Math.sqrt(errors.length);
    expect(stated / sd).toBeGreaterThan(0.85);
    expect(stated / sd).toBeLessThan(1.15);
    // Cramer-Rao bound for the place of an erf edge of unit height: noise / sqrt(sum of slope^2).
    const slopes = Array.from(
      { length: 40 },
      (_, i) => Math.exp(-(((i - 20) / 2) ** 2) / 2) / (2 * Math.sqrt(2 * Math.PI)),
    );
    const bound = noise / Math.hypot(...slopes);
    expect(sd).toBeGreaterThan(0.9 * bound);
    expect(sd).toBeLessThan(1.25 * bound);
  });

  it('finds none in a level profile', () => {
    expect(fitStep(new Array(40).fill(0.5), 0, 40, 20, 2)).toBeNull();
  });
});
