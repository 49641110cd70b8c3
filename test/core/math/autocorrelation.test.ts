import { describe, expect, it } from 'vitest';
import { autocorrelation } from '../../../src/core/math/autocorrelation.js';
import { seededRandom } from '../../support/photo-painter/seeded-random.js';

const levels = (list: readonly number[], each: number, repeats: number): number[] =>
  Array.from({ length: list.length * each * repeats }, (_, i) => list[Math.floor(i / each) % list.length]);

describe('autocorrelation', () => {
  it('has the worked values of two nearly equal bands: A B A C with B close to C', () => {
    // Levels .9 .2 .9 .3, ten samples each. At half the repeat, over whole repeats, the products of the departures from the
    // mean m = 0.575 are (2 * 0.325^2 + 2 * 0.375 * 0.275) / (2 * 0.325^2 + 0.375^2 + 0.275^2) = 0.97661.
    const r = autocorrelation([levels([0.9, 0.2, 0.9, 0.3], 10, 50)]);
    expect(r[20]).toBeCloseTo(0.97661, 4);
    expect(r[40]).toBeCloseTo(1, 6);
    expect(r[20]).toBeLessThan(r[40]);
  });

  it('equals the sums of products it stands for', () => {
    const random = seededRandom(3);
    const channels = [0, 1].map(() => Array.from({ length: 61 }, () => random.gaussian()));
    const r = autocorrelation(channels);
    const centred = channels.map((c) => c.map((v) => v - c.reduce((s, w) => s + w, 0) / c.length));
    for (const lag of [0, 1, 7, 30]) {
      const sum = (f: (c: number[], i: number) => number) =>
        centred.reduce((s, c) => s + c.slice(lag).reduce((t, _, i) => t + f(c, i), 0), 0);
      const products = sum((c, i) => c[i] * c[i + lag]);
      const most = Math.sqrt(sum((c, i) => c[i] ** 2) * sum((c, i) => c[i + lag] ** 2));
      expect(r[lag]).toBeCloseTo(products / most, 9);
    }
  });

  it('has the cosine of the lag for a long sinusoid', () => {
    const n = 4000;
    const r = autocorrelation([Array.from({ length: n }, (_, i) => Math.sin((2 * Math.PI * i) / 50))]);
    for (const lag of [5, 25, 40, 50]) expect(r[lag]).toBeCloseTo(Math.cos((2 * Math.PI * lag) / 50), 2);
  });
});
