import { describe, expect, test } from 'vitest';
import type { BandModel } from '../../../src/core/model/band-model.js';
import { type LayAnswer, layPieces, layTable, placementOf, placePieces } from '../../../src/index.js';
import { faultsOfLay } from '../../support/lay/check-lay.js';
import { panel, piecesOf, planOf } from '../../support/rectangle-pieces.js';
import { typedModel } from '../../support/seam/models.js';

const NO_FILE = { file: 'plan.json', sha256: '0' };
const stripes = typedModel([
  ['#223366', 14],
  ['#eeeedd', 9],
  ['#cc8822', 6],
]);
const length = { id: 'end', width_mm: 300, length_mm: 700, stripes: 'lengthwise', b1_start_mm: 4 };

async function laid(fields: object, drawn: readonly object[], model: BandModel | null = stripes, seed = 1) {
  const pieces = piecesOf(...drawn);
  const plan = planOf(fields);
  const placed = placePieces(plan, pieces, model);
  if (!placed.ok) throw new Error(placed.refusal.found);
  const placement = placementOf(placed.value, plan.wishes, NO_FILE, []);
  const lay = await layPieces(plan, pieces, model, placement, { rounds: 200, seed });
  return { lay, faults: (answer: LayAnswer) => faultsOfLay(answer, plan, pieces, model, placement) };
}
async function answerOf(fields: object, drawn: readonly object[], model: BandModel | null = stripes) {
  const { lay, faults } = await laid(fields, drawn, model);
  if (!lay.ok) throw new Error(lay.refusal.found);
  expect(faults(lay.value)).toEqual([]);
  return lay.value;
}

describe('what is not to be laid', () => {
  test('a plan without lengths, and one that does not say where stripes start, are refused', async () => {
    const none = await laid({}, [panel('a', 100, 200)]);
    expect(none.lay.ok || none.lay.refusal.found).toContain('no length of cloth');
    const unknown = await laid({ lengths: [{ ...length, b1_start_mm: undefined }] }, [panel('a', 100, 200)]);
    expect(unknown.lay.ok || unknown.lay.refusal.found).toContain('where the stripes start on "end"');
  });
});

describe('what does not fit', () => {
  test('says by how much it is short, and that so much more would do', async () => {
    // Two panels, too wide to lie side by side: 700 less 2 and 3 margins of 2.
    const lay = await answerOf({ lengths: [length] }, [
      panel('a', 200, 400, { copies: [{ id: 'one' }, { id: 'two' }] }),
    ]);
    expect(lay.fits).toBe(false);
    expect(lay.unplaced).toHaveLength(1);
    // 2 + 400 + 2 + 400 + 2 mm are needed; a tenth of the margin may go to fewer corners.
    expect(lay.short[0].more_mm).toBeGreaterThanOrEqual(106);
    expect(lay.short[0].more_mm).toBeLessThan(106.5);
    expect(lay.short[0].repeat).not.toBeNull();
    const more = lay.remedies.at(-1);
    expect(more).toMatchObject({ kind: 'more-cloth', fits: true, more_mm: 110 });
    expect(layTable(lay, 'mm')).toContain('110.0 mm more of "end"');
  });

  test('is wider than the cloth: no length would do', async () => {
    const lay = await answerOf({ lengths: [length] }, [panel('a', 400, 200)]);
    expect(lay.short).toEqual([
      expect.objectContaining({ copy: 'a', length: null, more_mm: null, repeat: null }),
    ]);
    expect(lay.buy).toMatchObject({ matched_mm: null });
    expect(layTable(lay, 'inch')).toContain('too narrow');
  });

  test('is a strip: joined on the diagonal it fits, both parts on its own stripes', async () => {
    const lay = await answerOf({ lengths: [length], margin_mm: 1 }, [panel('sash', 60, 1000)]);
    const joined = lay.remedies.find(({ kind }) => kind === 'strip-joined');
    expect(joined).toMatchObject({ fits: true, copy: 'sash' });
    const parts = joined?.lengths[0].copies ?? [];
    expect(parts).toHaveLength(2);
    // Parts overlap by the allowances, 10 mm each, along a join of 60 mm times the root of 2.
    const area = parts.reduce((sum, { part }) => sum + areaOf(part ?? []), 0);
    expect(area).toBeCloseTo(60 * 1000 + 2 * 10 * 60 * Math.SQRT2, 0);
  });

  test('fits once the weakest wish is given up', async () => {
    // 266 mm of room for a panel of 260: its left edge comes to lie 5 mm from the selvage where nothing is wished, and 19 mm where b2 shall start.
    const wishes = [{ id: 'low', kind: 'lands', copy: 'a', point: 'low-left', band: 'b2', side: 'start' }];
    const lay = await answerOf({ lengths: [{ ...length, width_mm: 270, b1_start_mm: 5 }], wishes }, [
      panel('a', 260, 200),
    ]);
    expect(lay.fits).toBe(false);
    const given = lay.remedies.find(({ kind }) => kind === 'wish-given-up');
    expect(given).toMatchObject({ fits: true, wish: 'low' });
    expect(given?.lengths[0].copies[0].transform[4]).toBeCloseTo(5, 6);
  });
});

const areaOf = (outline: readonly (readonly [number, number])[]): number =>
  Math.abs(
    outline.reduce((sum, [x, y], k) => {
      const [nextX, nextY] = outline[(k + 1) % outline.length];
      return sum + (x * nextY - nextX * y) / 2;
    }, 0),
  );

describe('the search', () => {
  const drawn = [
    panel('a', 100, 260, { copies: [{ id: 'a1' }, { id: 'a2' }, { id: 'a3' }] }),
    panel('b', 70, 150, { copies: [{ id: 'b1' }, { id: 'b2' }, { id: 'b3' }, { id: 'b4' }] }),
  ];

  test('finds the same for the same seed and rounds', async () => {
    const fields = { lengths: [{ ...length, length_mm: 1500 }] };
    expect(await answerOf(fields, drawn)).toEqual(await answerOf(fields, drawn));
  });

  test('fills plain cloth without a gap where that can be', async () => {
    // 2 x 2 panels of 150 by 350 on 300 by 700, no margin.
    const lay = await answerOf(
      { cloth: { model: null }, lengths: [length], margin_mm: 0 },
      [panel('a', 150, 350, { copies: ['one', 'two', 'three', 'four'].map((id) => ({ id })) })],
      null,
    );
    expect(lay.fits).toBe(true);
    expect(lay.lengths[0].share_cut).toBeCloseTo(1, 6);
  });

  test('gives what it has once it is told to stop', async () => {
    let asked = 0;
    const pieces = piecesOf(...drawn);
    const plan = planOf({ lengths: [{ ...length, length_mm: 1500 }] });
    const placed = placePieces(plan, pieces, stripes);
    if (!placed.ok) throw new Error(placed.refusal.found);
    const placement = placementOf(placed.value, [], NO_FILE, []);
    const lay = await layPieces(plan, pieces, stripes, placement, {
      rounds: 1e9,
      seed: 1,
      isOver: () => ++asked > 40,
    });
    if (!lay.ok) throw new Error(lay.refusal.found);
    expect(lay.value.fits).toBe(true);
    expect(faultsOfLay(lay.value, plan, pieces, stripes, placement)).toEqual([]);
  });
});
