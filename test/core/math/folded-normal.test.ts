import { describe, expect, it } from 'vitest';
import { foldedQuantiles, normalCdf, normalQuantile } from '../../../src/core/math/folded-normal.js';
import { quantile } from '../../../src/core/math/robust.js';
import { seededRandom } from '../../support/photo-painter/seeded-random.js';

describe('normal distribution', () => {
  // Abramowitz and Stegun (1964), table 26.1.
  it.each([
    [0, 0.5],
    [0.5, 0.6914624613],
    [1, 0.8413447461],
    [1.96, 0.9750021049],
    [3, 0.998650102],
  ])('has the published value at %f', (z, p) => {
    expect(normalCdf(z)).toBeCloseTo(p, 6);
    expect(normalCdf(-z)).toBeCloseTo(1 - p, 6);
  });

  it('folds to the half-normal quantiles about 0', () => {
    // Quantiles of |Z|: those of Z at (1 + q) / 2, from the same table.
    const [median, p90, greatest] = foldedQuantiles([{ centre: 0, sd: 2, weight: 3 }], [0.5, 0.9, 0.9973002]);
    expect(median).toBeCloseTo(2 * 0.67449, 3);
    expect(p90).toBeCloseTo(2 * 1.644854, 3);
    expect(greatest).toBeCloseTo(2 * 3, 3);
  });

  it('agrees with chance for a mixture', () => {
    const random = seededRandom(5);
    const parts = [
      { centre: -2, sd: 0.5, weight: 1 },
      { centre: 0.3, sd: 1.5, weight: 2 },
      { centre: 4, sd: 0.1, weight: 1 },
    ];
    const order = [0, 1, 1, 2];
    const drawn = Float64Array.from({ length: 200_000 }, (_, k) => {
      const part = parts[order[k % 4]];
      return Math.abs(part.centre + part.sd * random.gaussian());
    });
    const found = foldedQuantiles(parts, [0.5, 0.9]);
    expect(found[0]).toBeCloseTo(quantile(drawn, 0.5), 1.7);
    expect(found[1]).toBeCloseTo(quantile(drawn, 0.9), 1.7);
  });

  it('finds the value of a probability: the same table read the other way', () => {
    expect(normalQuantile(0.5)).toBeCloseTo(0, 5);
    expect(normalQuantile(0.9750021049)).toBeCloseTo(1.96, 5);
    expect(normalQuantile(1 - 0.8413447461)).toBeCloseTo(-1, 5);
  });
});
