import { describe, expect, test } from 'vitest';
import type { BandModel } from '../../../src/core/model/band-model.js';
import type { PlacementAnswer } from '../../../src/core/place/answer/placement.js';
import { placementOf } from '../../../src/core/place/answer/placement-of.js';
import { type Placings, placePieces } from '../../../src/core/place/place-pieces.js';
import { costOfPlacing, stateOf } from '../../../src/core/place/search/problem.js';
import { panel, piecesOf, planOf } from '../../support/rectangle-pieces.js';
import { typedModel } from '../../support/seam/models.js';

const NO_FILE = { file: 'plan.json', sha256: '' };
const unbalanced = typedModel([
  ['#223366', 14],
  ['#eeeedd', 9],
  ['#cc8822', 6],
]);
const other = typedModel([
  ['#223366', 12],
  ['#eeeedd', 7],
  ['#cc8822', 5],
  ['#eeeedd', 4],
]);
const check: BandModel = {
  ...unbalanced,
  stripes: { ...unbalanced.stripes, layout: 'check' },
  check: { repeat: other.repeat, bands: other.bands, instances: [] },
};
const printed: BandModel = {
  ...unbalanced,
  repeat: { ...unbalanced.repeat, along_mm: 40, along_sd_mm: 0.1, drop_fraction: 0.5 },
  motifs: [{ colour: 'C', along_mm: 8, across_mm: 18, extent_mm: [10, 12] }],
};

function placings(fields: object, pieces: readonly object[], model: BandModel): Placings {
  const plan = planOf(fields);
  const placed = placePieces(plan, piecesOf(...pieces), model);
  if (!placed.ok) throw new Error(placed.refusal.found);
  return placed.value;
}
function answersOf(fields: object, pieces: readonly object[], model: BandModel): readonly PlacementAnswer[] {
  return placementOf(placings(fields, pieces, model), planOf(fields).wishes, NO_FILE, []).answers;
}

const sides = {
  joins: [{ id: 'side', left: { copy: 'one', seam: 'right' }, right: { copy: 'two', seam: 'left' } }],
};

describe('on a check', () => {
  // Two panels beside each other as they were on the cloth: a shift carries one seam onto the other.
  test('panels joined straight agree both ways at once', () => {
    const right = panel('two', 120, 200, {
      seams: [{ id: 'left', from: 'low-left', to: 'high-left' }],
      stitching: [
        [0, 0],
        [0, 200],
        [120, 200],
        [120, 0],
      ],
    });
    const [best] = answersOf(
      { ...sides, wishes: [{ id: 'm', kind: 'meets', join: 'side' }] },
      [panel('one', 100, 200), right],
      check,
    );
    expect(best.joins[0].unlike_mm).toBeLessThan(1e-3);
    expect(best.copies[0].points['low-left'].check_band).toBeDefined();
  });

  test('wishes about either direction are met together, and shares count each direction for half', () => {
    const wishes = [
      { id: 'u', kind: 'lands', copy: 'one', point: 'low-left', band: 'b3', within: 0.01 },
      {
        id: 'v',
        kind: 'lands',
        copy: 'one',
        point: 'low-left',
        band: 'b2',
        side: 'start',
        direction: 'along',
        within: 0.01,
      },
    ];
    const [best] = answersOf({ wishes }, [panel('one', 100, 200)], check);
    expect(best.wishes.map(({ met }) => met)).toEqual([true, true]);
    expect(best.copies[0].points['low-left']).toMatchObject({ band: 'b3', check_band: 'b2' });
    expect(best.copies[0].shares.reduce((sum, { share }) => sum + share, 0)).toBeCloseTo(1, 9);
  });

  test('costs no more than the best of a coarse grid over both coordinates of two copies', () => {
    const wishes = [
      { id: 'm', kind: 'meets', join: 'side' },
      { id: 's', kind: 'shows', copy: 'one', colour: 'C', want: 'most' },
      { id: 'l', kind: 'lands', copy: 'two', point: 'low-right', band: 'b1', direction: 'along', weight: 2 },
    ];
    const pieces = [
      panel('one', 60, 90, { stripes: { to: 'grain', angle_deg: 20 } }),
      panel('two', 70, 90, {
        stripes: { to: 'grain', angle_deg: -10 },
        copies: [{ id: 'two', mirrored: true }],
      }),
    ];
    const found = placings({ ...sides, wishes }, pieces, check);
    let least = Number.POSITIVE_INFINITY;
    const [problem] = found.problems;
    const statesOf = (copy: number) =>
      problem.copies[copy].options.flatMap((option) =>
        Array.from({ length: 8 }, (_, i) =>
          Array.from({ length: 8 }, (_, j) => stateOf(option, (i / 8) * 29, (j / 8) * 28)),
        ).flat(),
      );
    for (const one of statesOf(0))
      for (const two of statesOf(1)) least = Math.min(least, costOfPlacing(problem, [one, two]).cost);
    expect(found.found[0].cost).toBeLessThanOrEqual(least + 1e-6);
  });
});

describe('on a print', () => {
  const wishes = [{ id: 'c', kind: 'clear', copy: 'one', seam: 'right', margin_mm: 3, within: 0 }];

  test('a seam keeps clear of motifs where it can: straight between their columns', () => {
    // Columns are 29 mm apart and 10 wide, so 3 mm either side leave 13: but half-dropped columns alternate, so none is passed.
    const [best] = answersOf({ wishes }, [panel('one', 100, 200)], printed);
    expect(best.wishes[0]).toMatchObject({ met: true, miss_mm: 0 });
  });

  test('a lattice vector more changes no miss', () => {
    const { problems, found } = placings(
      { wishes: [...wishes, { id: 'l', kind: 'lands', copy: 'one', point: 'low-right', band: 'b3' }] },
      [panel('one', 100, 200, { stripes: { to: 'grain', angle_deg: 30 } })],
      printed,
    );
    const [{ placing, cost }] = found;
    const [{ option, across, along }] = placing;
    const moved = stateOf(option, across.offsetMm + 29, along.offsetMm + 20);
    expect(costOfPlacing(problems[0], [moved]).cost).toBeCloseTo(cost, 6);
  });

  test('motifs without a repeat along are refused', () => {
    const loose: BandModel = {
      ...printed,
      repeat: { ...printed.repeat, along_mm: null, drop_fraction: null },
    };
    const placed = placePieces(planOf({ wishes }), piecesOf(panel('one', 100, 200)), loose);
    expect(placed).toMatchObject({ ok: false, refusal: { reason: 'unreadable' } });
  });
});

describe('folds, darts and ease', () => {
  test('a point may lie on the mirrored half of a piece cut on the fold', () => {
    const onFold = panel('back', 100, 200, { fold: 'left' });
    const wish = (half: string) => ({
      id: half,
      kind: 'lands',
      copy: 'back',
      point: 'low-right',
      half,
      band: 'b3',
      within: 0.01,
    });
    const [best] = answersOf({ wishes: [wish('given')] }, [onFold], unbalanced);
    const [mirrored] = answersOf({ wishes: [wish('mirrored')] }, [onFold], unbalanced);
    // The mirrored corner is 200 mm from the given one, across the stripes.
    expect(
      Math.abs(best.copies[0].points['low-right'].u_mm - mirrored.copies[0].points['low-right'].u_mm) % 29,
    ).not.toBe(0);
    expect([best, mirrored].map(({ wishes: [{ met }] }) => met)).toEqual([true, true]);
    const refused = placePieces(
      planOf({ wishes: [{ ...wish('mirrored'), copy: 'one' }] }),
      piecesOf(panel('one', 100, 200)),
      unbalanced,
    );
    expect(refused).toMatchObject({ ok: false, refusal: { found: expect.stringContaining('has no fold') } });
  });

  test('the legs of a dart are a join of a piece with itself', () => {
    const darted = {
      ...panel('front', 100, 200),
      stitching: [
        [0, 0],
        [40, 0],
        [50, 90],
        [60, 0],
        [100, 0],
        [100, 200],
        [0, 200],
      ],
      points: { left: [40, 0], tip: [50, 90], right: [60, 0] },
      seams: [
        { id: 'left-leg', from: 'left', to: 'tip' },
        { id: 'right-leg', from: 'tip', to: 'right' },
      ],
    };
    const leg = (reversed: boolean) => ({
      joins: [
        {
          id: 'dart',
          left: { copy: 'front', seam: 'left-leg' },
          right: { copy: 'front', seam: 'right-leg', reversed },
        },
      ],
      wishes: [{ id: 'm', kind: 'meets', join: 'dart' }],
    });
    // Stripes square to the dart's middle line: both legs show the same at the same distance from the mouth, so they meet wherever it lies.
    const across = { ...darted, stripes: { to: 'grain', angle_deg: 90 } };
    const [sewn] = answersOf(leg(true), [across], unbalanced);
    expect(sewn.joins[0].unlike_mm).toBeLessThan(1e-6);
    expect(sewn.joins[0].crossings.length).toBeGreaterThan(0);
    // Start to start as listed, one leg would be sewn from its point.
    const [listed] = answersOf(leg(false), [across], unbalanced);
    expect(listed.joins[0].unlike_mm).toBeGreaterThan(5);
  });

  test('a seam longer than its mate is eased evenly: bands meet in proportion', () => {
    const stripes = { stripes: { to: 'grain', angle_deg: 90 } };
    const wide = panel('two', 100, 220, { ...stripes, copies: [{ id: 'two', mirrored: true }] });
    const join = {
      joins: [{ id: 'side', left: { copy: 'one', seam: 'right' }, right: { copy: 'two', seam: 'right' } }],
    };
    const [best] = answersOf(
      { ...join, wishes: [{ id: 'a', kind: 'agrees', join: 'side', at: 0.5, by: 'band', within: 0.01 }] },
      [panel('one', 100, 200, stripes), wide],
      unbalanced,
    );
    expect(best.wishes[0].met).toBe(true);
    // Repeats of 29 mm on 200 mm and on 220: the right side's stripes come a tenth closer by the left side's length.
    expect(best.joins[0].drift).not.toBeNull();
    const drift = best.joins[0].drift as NonNullable<PlacementAnswer['joins'][number]['drift']>;
    expect(Math.abs(drift.end_mm - drift.start_mm)).toBeCloseTo(200 - 200 / 1.1, 0);
  });
});
