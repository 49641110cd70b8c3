import { describe, expect, it } from 'vitest';
import { median } from '../../../src/core/math/robust.js';
import { middleOf, selectKth } from '../../../src/core/math/select.js';
import { seededRandom } from '../../support/photo-painter/seeded-random.js';

describe('selection without sorting', () => {
  const random = seededRandom(11);
  const lists = [1, 2, 3, 10, 11, 256, 1001].flatMap((n) => [
    Float64Array.from({ length: n }, () => random.uniform()),
    // Many alike, as pixels are.
    Float64Array.from({ length: n }, () => Math.floor(4 * random.uniform())),
    Float64Array.from({ length: n }, (_, i) => i),
    Float64Array.from({ length: n }, (_, i) => 1000 - i),
  ]);

  it('finds what sorting puts at each place', () => {
    for (const list of lists) {
      const sorted = list.slice().sort();
      for (const k of [0, list.length >> 2, list.length >> 1, list.length - 1]) {
        expect(selectKth(list.slice(), list.length, k)).toBe(sorted[k]);
      }
    }
  });

  it('gives the median, and looks at the first n values only', () => {
    for (const list of lists) expect(middleOf(list.slice(), list.length)).toBe(median(list));
    expect(middleOf(Float64Array.of(5, 1, 3, 99, 99), 3)).toBe(3);
    expect(middleOf(new Float64Array(0), 0)).toBeNaN();
  });
});
