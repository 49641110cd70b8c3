import { expect, it } from 'vitest';
import type { BandModel } from '../../../src/core/model/band-model.js';
import { clearCorner } from '../../../src/core/render/clear-corner.js';
import { typedModel } from '../../support/seam/models.js';

/** Indigo 24, ivory 10, ochre 6 in a repeat of 40 mm, a shell wherever it is put. */
function withShell(acrossMm: number, alongMm: number, extentMm: [number, number]): BandModel {
  const base = typedModel([
    ['#203060', 24],
    ['#f0e8d8', 10],
    ['#c08020', 6],
  ]);
  const shell = { colour: 'C', across_mm: acrossMm, along_mm: alongMm, extent_mm: extentMm };
  return { ...base, motifs: [shell] };
}

it('begins down the middle of the widest band without a motif', () => {
  expect(clearCorner(withShell(29, 7, [9, 8]), 40, 30, 0)[0]).toBe(12);
  // A shell on the indigo, its tip over the ivory's edge.
  expect(clearCorner(withShell(12, 7, [25, 8]), 40, 30, 0)[0]).toBe(29);
  // That reaches beyond the ivory's middle, and comes round from the repeat before.
  expect(clearCorner(withShell(-26, 7, [33, 8]), 40, 30, 0)[0]).toBe(37);
});

it('begins midway between motifs along the stripes, of all columns', () => {
  // 3..11 of 30: free from 11 to 33.
  expect(clearCorner(withShell(12, 7, [8, 8]), 40, 30, 0)[1]).toBeCloseTo(22 - 30, 9);
  // Dropped by half also 18..26: free from 11 to 18 and from 26 to 33.
  const [, low] = clearCorner(withShell(12, 7, [8, 8]), 40, 30, 0.5);
  expect([14.5, 29.5 - 30]).toContainEqual(expect.closeTo(low, 9));
});

it('begins with the model where every line crosses a motif', () => {
  expect(clearCorner(withShell(12, 7, [41, 31]), 40, 30, 0)).toEqual([0, 0]);
});
