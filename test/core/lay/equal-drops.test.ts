import { describe, expect, test } from 'vitest';
import type { BandModel } from '../../../src/core/model/band-model.js';
import { layPieces, placementOf, placePieces } from '../../../src/index.js';
import { faultsOfLay } from '../../support/lay/check-lay.js';
import { panel, piecesOf, planOf } from '../../support/rectangle-pieces.js';
import { typedModel } from '../../support/seam/models.js';

const NO_FILE = { file: 'plan.json', sha256: '0' };
const stripes = typedModel([
  ['#223366', 14],
  ['#eeeedd', 9],
  ['#cc8822', 6],
]);

/** Equal lengths of cloth, one beside another too wide: each begins at the same place of the print. */
async function drops(count: number, lengthMm: number, repeatMm: number) {
  const model: BandModel = {
    ...stripes,
    repeat: { ...stripes.repeat, along_mm: repeatMm, along_sd_mm: 0.1, drop_fraction: 0 },
    motifs: [{ colour: 'C', along_mm: 8, across_mm: 18, extent_mm: [10, 12] }],
  };
  const copies = Array.from({ length: count }, (_, k) => ({ id: `drop ${k + 1}` }));
  const pieces = piecesOf(panel('drop', 1000, lengthMm, { copies }));
  const plan = planOf({
    cloth: { model: 'bands.json', one_way: true },
    margin_mm: 0,
    lengths: [
      {
        id: 'roll',
        width_mm: 1400,
        length_mm: 30000,
        stripes: 'lengthwise',
        b1_start_mm: 0,
        along_start_mm: 0,
      },
    ],
  });
  const placed = placePieces(plan, pieces, model);
  if (!placed.ok) throw new Error(placed.refusal.found);
  const placement = placementOf(placed.value, [], NO_FILE, []);
  const lay = await layPieces(plan, pieces, model, placement, { rounds: 100, seed: 1 });
  if (!lay.ok) throw new Error(lay.refusal.found);
  expect(faultsOfLay(lay.value, plan, pieces, model, placement)).toEqual([]);
  const starts = lay.value.lengths[0].copies.map(({ transform }) => transform[5]).sort((a, b) => a - b);
  return { lay: lay.value, starts };
}

describe('equal drops on a print', () => {
  // The rule of the trade: a drop takes whole repeats, p ceil(L / p); worked cases by hand.
  test.each([
    { count: 4, lengthMm: 2300, repeatMm: 640, eachMm: 2560 },
    { count: 3, lengthMm: 2560, repeatMm: 640, eachMm: 2560 },
    { count: 6, lengthMm: 950, repeatMm: 75, eachMm: 975 },
  ])(
    '$count of $lengthMm mm, repeat $repeatMm mm: $eachMm mm each',
    async ({ count, lengthMm, repeatMm, eachMm }) => {
      const { lay, starts } = await drops(count, lengthMm, repeatMm);
      starts.slice(1).forEach((start, k) => {
        expect(start - starts[k]).toBeCloseTo(eachMm, 4);
      });
      // Of the last drop the rest of its repeat need not be bought.
      expect(lay.buy.matched_mm).toBe(Math.ceil(((count - 1) * eachMm + lengthMm) / 10) * 10);
      expect(lay.buy.plain_mm).toBe(Math.ceil((count * lengthMm) / 10) * 10);
      // The other rule of thumb: no more than a repeat for each piece.
      expect((lay.buy.matched_mm as number) - (lay.buy.plain_mm as number)).toBeLessThanOrEqual(
        count * repeatMm,
      );
    },
  );
});
