import { describe, expect, test } from 'vitest';
import { layPieces, placementOf, placePieces } from '../../../src/index.js';
import { drawnPlan } from '../../support/drawn-plans.js';
import { faultsOfLay } from '../../support/lay/check-lay.js';
import { drawnCloth } from '../../support/lay/drawn-lays.js';
import { planOf } from '../../support/rectangle-pieces.js';
import { typedModel } from '../../support/seam/models.js';

const anyModel = typedModel([
  ['#223366', 14],
  ['#eeeedd', 9],
]);
const NO_FILE = { file: 'plan.json', sha256: '0' };

describe('lays of drawn plans', () => {
  test.each(Array.from({ length: 22 }, (_, k) => k))('seed %i', async (seed) => {
    const { what, model, cloth, lengths, marginMm } = drawnCloth(seed);
    const { pieces } = drawnPlan(model ?? anyModel, seed + 100, 5, 0);
    const copies = pieces.flatMap((piece) => piece.copies.map(({ id }) => id));
    const wishes =
      model === null
        ? []
        : copies
            .slice(0, 3)
            .map((copy, k) => ({ id: `w${k}`, kind: 'lands', copy, point: 'a', band: 'b1', side: 'start' }));
    const plan = planOf({
      cloth: { model: model === null ? null : 'bands.json', ...cloth },
      lengths,
      margin_mm: marginMm,
      wishes,
    });
    const placings = placePieces(plan, pieces, model);
    if (!placings.ok) throw new Error(placings.refusal.found);
    const placement = placementOf(placings.value, plan.wishes, NO_FILE, []);
    const lay = await layPieces(plan, pieces, model, placement, { rounds: 150, seed });
    if (!lay.ok) throw new Error(lay.refusal.found);
    expect(faultsOfLay(lay.value, plan, pieces, model, placement), what).toEqual([]);
    for (const remedy of lay.value.remedies.filter(({ fits, kind }) => fits && kind === 'more-cloth')) {
      const longer = {
        ...plan,
        lengths: plan.lengths.map((one, k) => ({ ...one, lengthMm: remedy.lengths[k].length_mm })),
      };
      const laid = { ...lay.value, fits: true, unplaced: [], lengths: remedy.lengths };
      expect(faultsOfLay(laid, longer, pieces, model, placement), `${what}, more cloth`).toEqual([]);
    }
  });
});
