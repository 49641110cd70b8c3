import { describe, expect, it } from 'vitest';
import { isTorn, longestRow, type PlacedBand } from '../../../src/core/stripes/placed-bands.js';

const band = (segment: number, startMm: number, endMm: number, widthMm = endMm - startMm): PlacedBand => ({
  segment,
  place: null,
  startMm,
  endMm,
  width: { mean: widthMm, sd: 0.1, min: widthMm, max: widthMm, count: 9 },
});

describe('bands as seen', () => {
  it('keep the longest row without a gap', () => {
    const row = longestRow([band(0, 0, 5), band(1, 5, 9), band(4, 30, 38), band(5, 38, 41), band(6, 41, 50)]);
    expect(row.map(({ segment }) => segment)).toEqual([4, 5, 6]);
  });

  it('are torn where edges lie farther apart than the band between them is wide', () => {
    expect(isTorn([band(0, 0, 5), band(1, 5, 9)])).toBe(false);
    expect(isTorn([band(0, 0, 5, 2.2), band(1, 5, 9)])).toBe(true);
  });
});
