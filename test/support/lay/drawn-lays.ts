import type { BandModel } from '../../../src/core/model/band-model.js';
import { seededRandom } from '../photo-painter/seeded-random.js';
import { typedModel } from '../seam/models.js';

/** A cloth with a plan's fields for it. */
export interface DrawnCloth {
  readonly what: string;
  readonly model: BandModel | null;
  readonly cloth: object;
  readonly lengths: readonly object[];
  readonly marginMm: number;
}

const unbalanced = typedModel([
  ['#223366', 14],
  ['#eeeedd', 9],
  ['#cc8822', 6],
]);
const balanced = typedModel([
  ['#223366', 20],
  ['#eeeedd', 10],
]);
const other = typedModel([
  ['#223366', 12],
  ['#eeeedd', 7],
  ['#cc8822', 5],
]);
const check: BandModel = {
  ...unbalanced,
  stripes: { ...unbalanced.stripes, layout: 'check' },
  check: { repeat: other.repeat, bands: other.bands, instances: [] },
};
const balancedCheck: BandModel = {
  ...balanced,
  stripes: { ...balanced.stripes, layout: 'check' },
  check: { repeat: balanced.repeat, bands: balanced.bands, instances: [] },
};
const printed: BandModel = {
  ...unbalanced,
  repeat: { ...unbalanced.repeat, along_mm: 40, along_sd_mm: 0.1, drop_fraction: 0.5 },
  motifs: [{ colour: 'C', along_mm: 8, across_mm: 18, extent_mm: [10, 12] }],
};

/** Stripes as a photo shows them: each a little off its mean, 40 repeats. */
const seen: BandModel = {
  ...unbalanced,
  instances: Array.from({ length: 40 }, (_, repeat) =>
    unbalanced.bands.map(({ id, start_mm, width_mm }, k) => {
      const off = (at: number): number => 0.3 * Math.sin(7 * (3 * repeat + at));
      const start = start_mm + 29 * repeat;
      return {
        band: id,
        repeat,
        start_mm: start + off(k),
        end_mm: start + width_mm + off(k + 1),
        width_mm: width_mm + off(k + 1) - off(k),
        width_sd_mm: 0.1,
        whole: true,
      };
    }),
  ).flat(),
};

const CLOTHS: readonly (readonly [string, BandModel | null, object])[] = [
  ['two-way stripes', unbalanced, { one_way: false }],
  ['one-way stripes', unbalanced, { one_way: true }],
  ['balanced stripes', balanced, { one_way: false }],
  ['one-way across', balanced, { one_way: true, nap: 'across' }],
  ['either side', unbalanced, { one_way: false, wrong_side: true }],
  ['a check', check, { one_way: true }],
  ['a balanced check', balancedCheck, { one_way: false }],
  ['a print', printed, { one_way: false }],
  ['actual stripes', seen, { one_way: false, instances: true }],
  ['plain cloth', null, { one_way: false }],
  ['plain one-way cloth', null, { one_way: true }],
];

/** Cloth of each kind in turn, with one to three lengths drawn by chance: lengthwise or crosswise, short ones and flaws among them. */
export function drawnCloth(seed: number): DrawnCloth {
  const draw = seededRandom(seed).uniform;
  const whole = (from: number, to: number): number => from + Math.floor(draw() * (to - from + 1));
  const [what, model, cloth] = CLOTHS[seed % CLOTHS.length];
  const lengths = Array.from({ length: whole(1, 3) }, (_, k) => {
    const width = whole(500, 1500);
    const length = whole(600, 2500);
    return {
      id: `length ${k + 1}`,
      width_mm: width,
      length_mm: length,
      stripes: draw() < 0.6 ? 'lengthwise' : 'crosswise',
      ...(model === null ? {} : { b1_start_mm: whole(-20, 60) }),
      along_start_mm: whole(0, 50),
      flaws: Array.from({ length: whole(0, 3) }, () => [
        whole(0, width - 60),
        whole(0, length - 60),
        whole(0, 60),
        whole(0, 60),
      ]),
    };
  });
  return { what, model, cloth, lengths, marginMm: [0, 2, 3, 10][whole(0, 3)] };
}
