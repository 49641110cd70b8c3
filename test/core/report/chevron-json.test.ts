import { Ajv2020 } from 'ajv/dist/2020.js';
import { describe, expect, it } from 'vitest';
import type { BandModel } from '../../../src/core/model/band-model.js';
import {
  type ChevronRequest,
  DEFAULT_CHEVRON,
  previewSeams,
} from '../../../src/core/pipeline/preview-seam.js';
import { chevronRecord } from '../../../src/core/report/chevron-json.js';
import { chevronSchema } from '../../../src/core/report/chevron-schema.js';
import { chevronTable } from '../../../src/core/report/chevron-table.js';
import { instancesBetween, tickingModel, typedModel } from '../../support/seam/models.js';

const previewOf = (model: BandModel, more: Partial<ChevronRequest> = {}) => {
  const outcome = previewSeams(model, { ...DEFAULT_CHEVRON, ...more });
  if (!outcome.ok) throw new Error(outcome.refusal.found);
  return outcome.value;
};
const recordOf = (model: BandModel, more: Partial<ChevronRequest> = {}) =>
  chevronRecord(previewOf(model, more), {
    model: { file: 'bands.json', sha256: 'ab'.repeat(32) },
    from: null,
    seamNames: null,
    files: [],
  });

const ticking = tickingModel();
const seen: BandModel = {
  ...ticking,
  instances: instancesBetween(
    ticking,
    Array.from(
      { length: 25 },
      (_, k) => Math.floor(k / 6) * 52 + ticking.bands[k % 6].start_mm + 0.3 * Math.sin(9 * k),
    ),
  ),
};
const balanced = typedModel([
  ['#203060', 10],
  ['#f0e8d8', 6],
  ['#203060', 8],
  ['#c08020', 6],
]);

describe('chevron.json', () => {
  const validate = new Ajv2020({ allowUnionTypes: true }).compile(chevronSchema);

  it.each<[string, BandModel, Partial<ChevronRequest>]>([
    ['typed model', ticking, {}],
    ['measured instances', seen, { shiftMm: -2 }],
    ['unequal sides', ticking, { angles: [[45, 38]] }],
    ['square', ticking, { angles: [[90, 90]], point: 'up' }],
    ['nothing known of unevenness', balanced, { seamMm: 60, atMm: 0 }],
    ['against the rule', ticking, { lay: 'same-way', anyway: true }],
    ['run-on', ticking, { lay: 'run-on', allowanceMm: 0 }],
  ])('keeps to its schema: %s', (_, model, more) => {
    const record = JSON.parse(JSON.stringify(recordOf(model, more)));
    validate(record);
    expect(validate.errors ?? []).toEqual([]);
  });

  it('is refused by its schema when a field is missing', () => {
    const { seams, ...rest } = recordOf(ticking);
    expect(validate(rest)).toBe(false);
  });

  it('lists repeat, bands and crossings that add up', () => {
    for (const seam of recordOf(ticking, {
      angles: [
        [22.5, 22.5],
        [45, 38],
      ],
    }).seams) {
      for (const side of ['left', 'right'] as const) {
        const sum = seam.bands_along_mm.reduce((total, band) => total + band[side], 0);
        expect(sum).toBeCloseTo(seam.repeat_along_mm[side === 'left' ? 0 : 1], 2);
      }
      for (let i = 1; i < seam.crossings.length; i++) {
        const [before, here] = [seam.crossings[i - 1], seam.crossings[i]];
        expect(here.left_bands[0]).toBe(before.left_bands[1]);
        const band = seam.bands_along_mm.find((one) => one.band === here.left_bands[0]);
        expect(here.left_mm - before.left_mm).toBeCloseTo(band?.left ?? Number.NaN, 2);
      }
    }
  });

  it('shares the halves out whole, and evenly for long halves', () => {
    for (const seam of recordOf(ticking, { seamMm: 5200 }).seams) {
      for (const half of [seam.colour_shares.left, seam.colour_shares.right]) {
        expect(half.reduce((sum, one) => sum + one.share, 0)).toBeCloseTo(1, 4);
        for (const { colour, share } of half) {
          expect(share).toBeCloseTo(ticking.colours.find((one) => one.id === colour)?.share ?? Number.NaN, 2);
        }
      }
    }
  });

  it('counts the colours of a half as a look at every point does', () => {
    const preview = previewOf(ticking, { angles: [[35, 35]], centres: ['b3'], seamMm: 100 });
    const { match, shares } = preview.rows[0][0];
    const counted = new Map<string, number>();
    const n = 500;
    for (let i = 0; i < n; i++) {
      for (let j = 0; j < n; j++) {
        const [x, y] = [(-36 * (i + 0.5)) / n, (100 * (j + 0.5)) / n];
        const u = (((match.left.uMm + match.left.uPerX * x + match.left.uPerY * y) % 52) + 52) % 52;
        const band = [...ticking.bands].reverse().find((one) => one.start_mm <= u);
        counted.set(band?.colour ?? '', (counted.get(band?.colour ?? '') ?? 0) + 1 / (n * n));
      }
    }
    for (const { colourId, share } of shares.left) expect(share).toBeCloseTo(counted.get(colourId) ?? 0, 2.3);
  });

  it('says how much of the seam does not meet: all of a slip by each edge', () => {
    const [seam] = recordOf(ticking, { angles: [[45, 45]], centres: ['b3'], shiftMm: 1 }).seams;
    for (const c of seam.crossings) expect(c.mismatch_mm).toBeCloseTo(Math.SQRT2, 3);
    for (const [from, to] of seam.unmatched_mm.slice(1, -1)) expect(to - from).toBeCloseTo(Math.SQRT2, 2);
    // Six edges in 73.5 mm, each out along 1.414 mm.
    expect(seam.unmatched_share).toBeCloseTo(6 / 52, 1.7);
  });

  it('meets wherever the lay is lawful', () => {
    for (const lay of ['head-to-tail', 'wrong-side'] as const) {
      for (const seam of recordOf(ticking, { lay }).seams) expect(seam.unmatched_share).toBe(0);
    }
    for (const seam of recordOf(balancedTicking(), { lay: 'same-way' }).seams) {
      expect(seam.unmatched_share).toBe(0);
      expect(seam.crossings.every((c) => c.mismatch_mm === 0)).toBe(true);
    }
  });
});

/** A B A C with equal A: its mirror lines run through B and C, so A meets the other A. */
const balancedTicking = (): BandModel =>
  typedModel([
    ['#203060', 10],
    ['#f0e8d8', 6],
    ['#203060', 10],
    ['#c08020', 4],
  ]);

describe('misuse', () => {
  it.each<[string, Partial<ChevronRequest>, RegExp]>([
    [
      'forbidden lay',
      { lay: 'same-way' },
      /^lay: same-way is not allowed here\. The stripes do not read the same backwards.*anyway/,
    ],
    ['unknown band', { centres: ['b9'] }, /centres: there is no band "b9"; the bands are b1 \(indigo\)/],
    [
      'colour of several bands',
      { centres: ['ivory'] },
      /centres: 3 bands are ivory; say which: b\d+, b\d+, b\d+$/,
    ],
    ['no seam', { seamMm: 0 }, /seamMm: expected 10 mm to 10 m, received 0 mm/],
    ['absurd seam', { seamMm: 1e6 }, /seamMm: expected/],
    ['ring off the seam', { atMm: 401 }, /atMm: expected a place on the seam, 0 to 400 mm/],
    ['absurd allowance', { allowanceMm: -1 }, /allowanceMm: expected 0 to 100 mm/],
  ])('%s', (_, more, message) => {
    expect(() => previewSeams(ticking, { ...DEFAULT_CHEVRON, ...more })).toThrow(message);
  });

  it('refuses a model without a repeat', () => {
    const outcome = previewSeams(
      { ...ticking, repeat: { ...ticking.repeat, across_mm: null } },
      DEFAULT_CHEVRON,
    );
    expect(outcome).toMatchObject({ ok: false, refusal: { reason: 'unreadable' } });
  });
});

describe('the table on the terminal', () => {
  it('begins with what the cloth allows and fits a plain terminal', () => {
    const lines = chevronTable(previewOf(seen), 'mm').split('\n');
    expect(lines[0]).toMatch(/^Unbalanced stripes: one half must lie head to tail/);
    // 18 seams, and what there is to say of them: together a screen.
    expect(lines.length).toBeLessThan(50);
    expect(Math.max(...lines.map((line) => line.length))).toBeLessThanOrEqual(80);
    expect(lines.some((line) => /^45° +73\.5 +b3 ochre +8\.5 +0 /.test(line))).toBe(true);
  });

  it('says unknown rather than nought', () => {
    const table = chevronTable(previewOf(balanced, { lay: 'head-to-tail', seamMm: 60 }), 'inch');
    expect(table).toMatch(/ 0 +unknown +unknown/);
  });
});
