import { expect, it } from 'vitest';
import { percentages } from '../../../src/core/base/percent.js';

it('sums to a hundred whatever is shared out', () => {
  expect(percentages([1 / 3, 1 / 3, 1 / 3], 1)).toEqual(['33.4', '33.3', '33.3']);
  expect(percentages([0.5, 0.5], 0)).toEqual(['50', '50']);
  // To the nearest: 15, 29, 57.
  expect(percentages([0.145, 0.285, 0.57], 0)).toEqual(['15', '28', '57']);
  for (let n = 1; n < 40; n++) {
    const raw = Array.from({ length: n }, (_, k) => 1 + ((k * 7919 * n) % 101));
    const total = raw.reduce((sum, v) => sum + v, 0);
    for (const decimals of [0, 1]) {
      const shown = percentages(
        raw.map((v) => v / total),
        decimals,
      );
      const sum = shown.reduce((s, v) => s + Math.round(Number(v) * 10 ** decimals), 0);
      expect(sum).toBe(100 * 10 ** decimals);
      // None is further from the truth than one unit.
      for (const [k, v] of shown.entries())
        expect(Math.abs(Number(v) - (100 * raw[k]) / total)).toBeLessThan(10 ** -decimals);
    }
  }
});

it('leaves a part of the whole a part', () => {
  expect(percentages([0.25, 0.25], 0)).toEqual(['25', '25']);
  expect(percentages([], 0)).toEqual([]);
});
