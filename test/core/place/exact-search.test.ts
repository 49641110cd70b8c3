import { expect, test } from 'vitest';
import { placePieces } from '../../../src/core/place/place-pieces.js';
import { costOfPlacing, stateOf } from '../../../src/core/place/search/problem.js';
import { drawnPlan } from '../../support/drawn-plans.js';
import { exhaustiveCost } from '../../support/exhaustive-placing.js';
import { panel, piecesOf, planOf } from '../../support/rectangle-pieces.js';
import { instancesBetween, tickingModel, typedModel } from '../../support/seam/models.js';

// Drawn plans whose best place was missed by up to some hundredths of a mm, each compared with all places of a grid.
test.each([
  [9958, 1, 3],
  [9958, 2, 2],
])('plan %i of %i pieces and %i wishes is exact to a ten millionth of a mm', (seed, pieceCount, wishes) => {
  const model = tickingModel();
  const { plan, pieces } = drawnPlan(model, seed, pieceCount, wishes);
  const placed = placePieces(plan, pieces, model);
  if (!placed.ok) throw new Error(placed.refusal.found);
  const tried = exhaustiveCost(placed.value, 0.5, 1e6);
  expect(tried).not.toBeNull();
  expect(placed.value.found[0].cost).toBeLessThanOrEqual((tried as number) + 1e-7);
});

// Moved one by one, or all by equal steps, its copies end at 294.8489 mm: the sides of its seams run at unequal angles.
test('copies move together along a valley aslant, each by its own part', () => {
  const model = tickingModel();
  const { plan, pieces } = drawnPlan(model, 4005, 3, 6);
  const placed = placePieces(plan, pieces, model);
  if (!placed.ok) throw new Error(placed.refusal.found);
  expect(placed.value.found[0].cost).toBeLessThan(294.816);
});

// Actual stripes, each of its own width: every place in view is another, and the range has ends.
test.each([31, 32, 33, 35])(
  'plan %i on uneven stripes in view costs no more than the best of a grid',
  (seed) => {
    const mean = typedModel([
      ['#223366', 20],
      ['#eeeedd', 10],
    ]);
    const edges = [0];
    for (let k = 0; k < 20; k++)
      edges.push(edges[k] + (k % 2 === 0 ? 20 + 3 * Math.sin(1.7 * k) : 10 + Math.cos(2.3 * k)));
    const model = { ...mean, instances: instancesBetween(mean, edges) };
    const { plan, pieces } = drawnPlan(model, seed, 1, 1 + (seed % 4));
    const placed = placePieces({ ...plan, cloth: { ...plan.cloth, instances: true } }, pieces, model);
    if (!placed.ok) throw new Error(placed.refusal.found);
    const tried = exhaustiveCost(placed.value, 2.3, 1e6);
    expect(tried).not.toBeNull();
    expect(placed.value.found[0].cost).toBeLessThanOrEqual((tried as number) + 1e-7);
  },
);

/** Sides at 40 and 52 degrees, coupled by their seam and by what either wishes alone. */
test('no place near the best is cheaper, whichever way both copies move from it', () => {
  const model = tickingModel();
  const pieces = piecesOf(
    panel('one', 160, 300, { stripes: { to: 'grain', angle_deg: 40 } }),
    panel('two', 160, 300, {
      stripes: { to: 'grain', angle_deg: 52 },
      copies: [{ id: 'two', mirrored: true }],
    }),
  );
  const plan = planOf({
    joins: [{ id: 'centre', left: { copy: 'one', seam: 'right' }, right: { copy: 'two', seam: 'right' } }],
    wishes: [
      { id: 'v', kind: 'meets', join: 'centre', weight: 2 },
      { id: 'l', kind: 'lands', copy: 'one', point: 'low-left', band: 'b3' },
      { id: 's', kind: 'shows', copy: 'two', colour: model.colours[0].id, want: 'most' },
    ],
  });
  const placed = placePieces(plan, pieces, model);
  if (!placed.ok) throw new Error(placed.refusal.found);
  const [{ placing, cost }] = placed.value.found;
  const [problem] = placed.value.problems;
  let least = Number.POSITIVE_INFINITY;
  for (const reachMm of [0.3, 0.01, 1e-4])
    for (let way = 0; way < 720; way++) {
      const angle = (way * Math.PI) / 360;
      const moved = placing.map(({ option, across, along }, k) =>
        stateOf(
          option,
          across.offsetMm + reachMm * (k === 0 ? Math.cos(angle) : Math.sin(angle)),
          along.offsetMm,
        ),
      );
      least = Math.min(least, costOfPlacing(problem, moved).cost);
    }
  expect(least).toBeGreaterThanOrEqual(cost - 1e-7);
});
