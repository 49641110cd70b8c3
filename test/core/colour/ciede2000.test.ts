import { describe, expect, it } from 'vitest';
import { ciede2000 } from '../../../src/core/colour/ciede2000.js';
import type { Lab } from '../../../src/core/colour/lab.js';
import { readTruthRows } from '../../support/read-truth.js';

describe('ciede2000', () => {
  // Sharma, Wu, Dalal 2005, doi 10.1002/col.20070: the whole supplementary table, printed to four decimals.
  const pairs = readTruthRows('ciede2000-sharma-2005.csv').slice(1);

  it('has all 34 published pairs to check', () => {
    expect(pairs).toHaveLength(34);
  });

  it.each(pairs)('pair %s agrees in both orders', (_pair, ...fields) => {
    const [l1, a1, b1, l2, a2, b2, published] = fields.map(Number);
    const first: Lab = [l1, a1, b1];
    const second: Lab = [l2, a2, b2];
    expect(Math.abs(ciede2000(first, second) - published)).toBeLessThan(1e-4);
    expect(Math.abs(ciede2000(second, first) - published)).toBeLessThan(1e-4);
  });

  // color.js, test/delta.js: two values beside the table.
  it('is 100 from white to black, and 24.1218 for a strong chroma step', () => {
    expect(ciede2000([100, 0, 0], [0, 0, 0])).toBeCloseTo(100, 10);
    expect(Math.abs(ciede2000([50, 30, 40], [50, 0, 0]) - 24.1218)).toBeLessThan(1e-4);
  });

  it('is nothing between a colour and itself', () => {
    expect(ciede2000([37.2, -12.5, 40.1], [37.2, -12.5, 40.1])).toBe(0);
  });
});
