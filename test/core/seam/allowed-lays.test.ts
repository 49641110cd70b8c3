import { describe, expect, it } from 'vitest';
import { bandMirrors } from '../../../src/core/model/band-mirrors.js';
import type { BandModel } from '../../../src/core/model/band-model.js';
import { type ClothPattern, clothPattern } from '../../../src/core/model/cloth-pattern.js';
import { allowedLays, type LayAnswer, type SymmetryVerdict } from '../../../src/core/seam/allowed-lays.js';
import type { Lay } from '../../../src/core/seam/lay.js';
import { seededRandom } from '../../support/photo-painter/seeded-random.js';
import { tickingModel, typedModel } from '../../support/seam/models.js';

const patternOf = (model: BandModel): ClothPattern => {
  const outcome = clothPattern(model);
  if (!outcome.ok) throw new Error(outcome.refusal.found);
  return outcome.value;
};
const verdictOf = (model: BandModel): SymmetryVerdict => allowedLays(model, patternOf(model));
const answer = (verdict: SymmetryVerdict, lay: Lay): LayAnswer | undefined =>
  verdict.lays.find((one) => one.lay === lay)?.allowed;
const directional = (model: BandModel, flag: boolean | null): BandModel => ({
  ...model,
  symmetry: { ...model.symmetry, directional: flag },
});

const COLOURS = ['#203060', '#f0e8d8', '#c08020'];

type Step = readonly [colour: number, width: number];

/** Every cyclic list of n bands in 3 colours and 2 widths, neighbours unlike, that is not a shorter one repeated. */
function* lists(n: number, head: readonly Step[] = []): Generator<readonly Step[]> {
  if (head.length === n) {
    const parts = [1, 2, 3].filter((d) => d < n && n % d === 0);
    const repeats = (d: number): boolean =>
      head.every(([c, w], k) => c === head[(k + d) % n][0] && w === head[(k + d) % n][1]);
    if (head[0][0] !== head[n - 1][0] && !parts.some(repeats)) yield head;
    return;
  }
  for (const colour of [0, 1, 2]) {
    if (head.length > 0 && head[head.length - 1][0] === colour) continue;
    for (const width of [2, 3]) yield* lists(n, [...head, [colour, width]]);
  }
}

const patternOfSteps = (steps: readonly Step[]): ClothPattern =>
  patternOf(typedModel(steps.map(([colour, width]) => [COLOURS[colour], width])));

describe('balance of a band list', () => {
  // Counted by brute force apart from this project: lists of n bands, and how many of them are balanced.
  it.each([
    [2, 24, 24],
    [3, 48, 0],
    [4, 264, 144],
    [5, 960, 0],
    [6, 4152, 1080],
  ])('of %i bands', (n, count, balanced) => {
    let all = 0;
    let found = 0;
    for (const steps of lists(n)) {
      all++;
      const pattern = patternOfSteps(steps);
      const mirror = bandMirrors(
        pattern,
        steps.map(() => null),
      );
      if (!mirror.balanced) continue;
      found++;
      // Two axes, half a repeat apart, each in the middle of a band.
      expect(mirror.axesUMm).toHaveLength(2);
      expect(mirror.axesUMm[1] - mirror.axesUMm[0]).toBeCloseTo(pattern.repeatMm / 2, 9);
      for (const u of mirror.axesUMm) {
        const middles = pattern.bands.map((b) => Math.abs(b.startMm + b.widthMm / 2 - u) % pattern.repeatMm);
        expect(Math.min(...middles)).toBeLessThan(1e-9);
      }
    }
    expect([all, found]).toEqual([count, balanced]);
  });

  it('forgives what the unevenness explains, and no more', () => {
    const pattern = patternOf(
      typedModel([
        [COLOURS[0], 12],
        [COLOURS[1], 6],
        [COLOURS[0], 8],
        [COLOURS[2], 6.5],
      ]),
    );
    expect(bandMirrors(pattern, [0.1, 0.1, 0.1, 0.1]).balanced).toBe(false);
    const nearly = patternOf(
      typedModel([
        [COLOURS[0], 10],
        [COLOURS[1], 6],
        [COLOURS[0], 10.6],
        [COLOURS[2], 6],
      ]),
    );
    expect(bandMirrors(nearly, [0, 0, 0, 0]).balanced).toBe(false);
    expect(bandMirrors(nearly, [0.3, 0, 0.3, 0]).balanced).toBe(true);
    expect(bandMirrors(nearly, [0.3, 0, 0.3, 0]).residualMm).toBeCloseTo(0.6, 9);
  });
});

/** A cloth of unit cells, repeated by (across, drop) and (0, along). */
interface CellCloth {
  readonly steps: readonly Step[];
  readonly along: number;
  readonly drop: number;
  /** Cells with a printed mark: [u, v]. */
  readonly marks: readonly (readonly [number, number])[];
}

/** Whether some reversal of one coordinate, with any shifts, carries the cloth onto itself. By trying them all. */
function hasReversal(cloth: CellCloth, reverse: 'across' | 'along'): boolean {
  const across = cloth.steps.reduce((sum, [, w]) => sum + w, 0);
  const stripes = cloth.steps.flatMap(([colour, w]) => new Array<number>(w).fill(colour));
  const wrap = (k: number, n: number): number => ((k % n) + n) % n;
  const marked = new Set(cloth.marks.map(([u, v]) => `${u} ${wrap(v, cloth.along)}`));
  const face = (u: number, v: number): string => {
    const turns = Math.floor(u / across);
    const cu = u - turns * across;
    return `${stripes[cu]}${marked.has(`${cu} ${wrap(v - turns * cloth.drop, cloth.along)}`)}`;
  };
  for (let a = 0; a < across; a++) {
    for (let b = 0; b < cloth.along; b++) {
      let same = true;
      for (let u = 0; u < across && same; u++) {
        for (let v = 0; v < cloth.along && same; v++) {
          const image = reverse === 'across' ? face(a - u, v + b) : face(u + a, b - v);
          same = image === face(u, v);
        }
      }
      if (same) return true;
    }
  }
  return false;
}

function modelOfCells(cloth: CellCloth): BandModel {
  const model = directional(
    typedModel(cloth.steps.map(([colour, width]) => [COLOURS[colour], width])),
    false,
  );
  if (cloth.marks.length === 0) return model;
  return {
    ...model,
    repeat: { ...model.repeat, along_mm: cloth.along, drop_fraction: cloth.drop / cloth.along },
    motifs: cloth.marks.map(([u, v]) => ({
      colour: 'A',
      across_mm: u + 0.5,
      along_mm: v + 0.5,
      extent_mm: [1, 1],
    })),
  };
}

function expectAgreement(cloth: CellCloth): void {
  const verdict = verdictOf(modelOfCells(cloth));
  const said = [answer(verdict, 'same-way') !== 'no', answer(verdict, 'head-to-tail') !== 'no'];
  const found = [hasReversal(cloth, 'across'), hasReversal(cloth, 'along')];
  expect({ cloth, lays: said }).toEqual({ cloth, lays: found });
}

describe('what symmetry allows, against a search over all reversals of small cloths', () => {
  it('pure stripes: head to tail always, the same way only if balanced', () => {
    for (const n of [2, 3, 4, 5]) {
      for (const steps of lists(n)) {
        const cloth = { steps, along: 1, drop: 0, marks: [] };
        expect(hasReversal(cloth, 'along')).toBe(true);
        expectAgreement(cloth);
      }
    }
  });

  const balanced: Step[] = [
    [0, 4],
    [1, 4],
  ];
  const unbalanced: Step[] = [
    [0, 3],
    [1, 2],
    [2, 3],
  ];

  it.each<[string, CellCloth]>([
    ['a mark on the mirror line', { steps: balanced, along: 6, drop: 0, marks: [[5, 2]] }],
    ['a half-drop of marks', { steps: balanced, along: 6, drop: 3, marks: [[1, 0]] }],
    ['a third-drop of marks', { steps: balanced, along: 6, drop: 2, marks: [[1, 0]] }],
    [
      'a glide across: marks left and right of the line by turns',
      {
        steps: balanced,
        along: 6,
        drop: 0,
        marks: [
          [0, 0],
          [3, 3],
        ],
      },
    ],
    [
      'marks left and right, not half a repeat on',
      {
        steps: balanced,
        along: 6,
        drop: 0,
        marks: [
          [0, 0],
          [3, 2],
        ],
      },
    ],
    [
      'half-turns only',
      {
        steps: balanced,
        along: 7,
        drop: 0,
        marks: [
          [0, 0],
          [1, 2],
          [2, 5],
          [3, 0],
        ],
      },
    ],
    [
      'nothing at all',
      {
        steps: unbalanced,
        along: 7,
        drop: 0,
        marks: [
          [0, 0],
          [1, 1],
          [2, 3],
        ],
      },
    ],
    [
      'unbalanced stripes, marks in a row',
      {
        steps: unbalanced,
        along: 5,
        drop: 0,
        marks: [
          [0, 0],
          [4, 0],
        ],
      },
    ],
    [
      'a glide along: the stripes twice in a repeat',
      {
        steps: [
          [0, 2],
          [1, 2],
          [0, 2],
          [1, 2],
        ],
        along: 6,
        drop: 0,
        marks: [
          [0, 0],
          [0, 1],
          [4, 3],
          [4, 2],
        ],
      },
    ],
  ])('%s', (_, cloth) => expectAgreement(cloth));

  it('any marks on any small cloth', () => {
    const random = seededRandom(73);
    const some = [...lists(2), ...lists(3), ...lists(4)];
    for (let k = 0; k < 400; k++) {
      const steps = some[Math.floor(random.uniform() * some.length)];
      const across = steps.reduce((sum, [, w]) => sum + w, 0);
      const along = 2 + Math.floor(random.uniform() * 4);
      const count = 1 + Math.floor(random.uniform() * 3);
      const cells = new Set<string>();
      while (cells.size < count) {
        cells.add(`${Math.floor(random.uniform() * across)} ${Math.floor(random.uniform() * along)}`);
      }
      const marks = [...cells].map((cell) => cell.split(' ').map(Number) as [number, number]);
      const drop = random.uniform() < 0.5 ? 0 : Math.floor(random.uniform() * along);
      expectAgreement({ steps, along, drop, marks });
    }
  });
});

describe('cloths built to have a reversal, and spoiled ones', () => {
  it('straight and half-drop repeats, mirrors and glides', () => {
    const random = seededRandom(19);
    const whole = (n: number): number => Math.floor(random.uniform() * n);
    const wrap = (k: number, n: number): number => ((k % n) + n) % n;
    const some = [...lists(2), ...lists(4)].filter(
      (steps) => steps.length === 2 || steps[0].join() === steps[2].join(),
    );
    const found = { across: 0, along: 0, neither: 0 };
    for (let k = 0; k < 300; k++) {
      const steps = some[whole(some.length)];
      const across = steps.reduce((sum, [, w]) => sum + w, 0);
      const along = 2 * (2 + whole(3));
      const drop = random.uniform() < 0.6 ? along / 2 : 0;
      // A B mirrors about the middle of A, A B A C about that of B: cell u goes to a - u.
      const a = steps.length === 2 ? steps[0][1] - 1 : 2 * steps[0][1] + steps[1][1] - 1;
      const b = whole(along);
      const reverse = random.uniform() < 0.5 ? 'across' : 'along';
      const image = ([u, v]: readonly [number, number]): readonly [number, number] =>
        reverse === 'across' ? [a - u, v + b] : [u, b - v];
      const home = ([u, v]: readonly [number, number]): string => {
        const turns = Math.floor(u / across);
        return `${u - turns * across} ${wrap(v - turns * drop, along)}`;
      };
      const cells = new Set<string>();
      for (let m = 0; m < 2; m++) {
        let mark: readonly [number, number] = [whole(across), whole(along)];
        // A reversal done twice may be a shift along: go round until it closes.
        for (let turn = 0; turn < 2 * along && !cells.has(home(mark)); turn++) {
          cells.add(home(mark));
          mark = image(mark);
        }
      }
      const marks = [...cells].map((cell) => cell.split(' ').map(Number) as [number, number]);
      if (random.uniform() < 0.3 && marks.length > 1) marks.pop();
      const cloth = { steps, along, drop, marks };
      if (hasReversal(cloth, 'across')) found.across++;
      if (hasReversal(cloth, 'along')) found.along++;
      if (!hasReversal(cloth, 'across') && !hasReversal(cloth, 'along')) found.neither++;
      expectAgreement(cloth);
    }
    expect(Math.min(found.across, found.along, found.neither)).toBeGreaterThan(20);
  });
});

describe('one-way cloth and checks', () => {
  const balanced = typedModel([
    [COLOURS[0], 12],
    [COLOURS[1], 8],
  ]);
  const unbalanced = tickingModel();

  it.each([
    ['balanced', balanced, true, 'yes', 'no', 'same-way'],
    ['balanced', balanced, false, 'yes', 'yes', 'same-way'],
    ['balanced', balanced, null, 'yes', 'check', 'same-way'],
    ['unbalanced', unbalanced, true, 'no', 'no', 'wrong-side'],
    ['unbalanced', unbalanced, false, 'no', 'yes', 'head-to-tail'],
    ['unbalanced', unbalanced, null, 'no', 'check', 'head-to-tail'],
  ] as const)('%s, one-way %s', (_, model, flag, same, turned, preferred) => {
    const verdict = verdictOf(directional(model, flag));
    expect([answer(verdict, 'same-way'), answer(verdict, 'head-to-tail')]).toEqual([same, turned]);
    expect(verdict.preferred).toBe(preferred);
    // Nothing is left to look at where the preferred lay is sure, or no look could help.
    expect(verdict.checkByEye === null).toBe(same === 'yes' || turned !== 'check');
    expect([answer(verdict, 'wrong-side'), answer(verdict, 'run-on')]).toEqual(['check', 'yes']);
  });

  it('says that unbalanced one-way cloth has no true chevron right side up', () => {
    expect(verdictOf(directional(unbalanced, true)).sentence).toMatch(
      /one-way cloth: a matching V is impossible/,
    );
  });

  it('asks the cross stripes of a check', () => {
    const check = (cross: BandModel): BandModel => ({
      ...directional(balanced, false),
      stripes: { ...balanced.stripes, layout: 'check' },
      colours: unbalanced.colours,
      check: { repeat: cross.repeat, bands: cross.bands, instances: [] },
    });
    expect(answer(verdictOf(check(balanced)), 'head-to-tail')).toBe('yes');
    expect(answer(verdictOf(check(unbalanced)), 'head-to-tail')).toBe('no');
    expect(answer(verdictOf({ ...check(balanced), check: undefined }), 'head-to-tail')).toBe('check');
  });

  it('believes the bands where the file says otherwise, and says so', () => {
    const wrong = { ...unbalanced, symmetry: { ...unbalanced.symmetry, balanced: true } };
    expect(verdictOf(wrong).mirror.balanced).toBe(false);
    expect(verdictOf(wrong).doubts).toHaveLength(1);
    expect(verdictOf(unbalanced).doubts).toHaveLength(0);
  });
});
