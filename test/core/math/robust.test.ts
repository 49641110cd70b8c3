import { describe, expect, it } from 'vitest';
import { biweight, median, quantile, robustSd } from '../../../src/core/math/robust.js';
import { seededRandom } from '../../support/photo-painter/seeded-random.js';

describe('robust statistics', () => {
  it('take the middle and leave the list as it was', () => {
    const list = [5, 1, 4];
    expect(median(list)).toBe(4);
    expect(median([5, 1, 4, 2])).toBe(3);
    expect(median([])).toBeNaN();
    expect(list).toEqual([5, 1, 4]);
  });

  it('give the quartiles of R, quantile(c(1, 2, 3, 4, 10), type = 7)', () => {
    const list = [10, 1, 3, 2, 4];
    expect([0, 0.25, 0.5, 0.75, 1].map((q) => quantile(list, q))).toEqual([1, 2, 3, 4, 10]);
    expect(quantile(list, 0.9)).toBeCloseTo(7.6, 12);
  });

  it('give the standard deviation of a normal sample, with one value in ten gone wild', () => {
    const random = seededRandom(3);
    const sample = Array.from({ length: 4001 }, (_, i) => (i % 10 === 0 ? 1e6 : 20 + 3 * random.gaussian()));
    expect(median(sample)).toBeGreaterThan(19.8);
    expect(median(sample)).toBeLessThan(20.8);
    expect(robustSd(sample)).toBeGreaterThan(2.8);
    expect(robustSd(sample)).toBeLessThan(3.8);
    // R: mad(c(1, 2, 3, 4, 100)) = 1.4826
    expect(robustSd([1, 2, 3, 4, 100])).toBeCloseTo(1.4826, 5);
  });

  it('count a value less the further it lies', () => {
    expect(biweight(0)).toBe(1);
    expect(biweight(-2)).toBe(biweight(2));
    expect(biweight(1)).toBeGreaterThan(biweight(2));
    expect(biweight(4.7)).toBe(0);
  });
});
