import { describe, expect, it } from 'vitest';
import type { Lab } from '../../../src/core/colour/lab.js';
import { fitRepeat, type TemplateBand } from '../../../src/core/stripes/fit-repeat.js';

const DARK: Lab = [20, 5, -25];
const LIGHT: Lab = [85, 0, 12];
const OCHRE: Lab = [57, 13, 47];
const TEMPLATE: TemplateBand[] = [
  { lab: DARK, columns: 9 },
  { lab: LIGHT, columns: 5 },
  { lab: OCHRE, columns: 3 },
  { lab: LIGHT, columns: 6 },
];

/** Columns of the bands in turn with given widths. */
const profileOf = (list: readonly (readonly [Lab, number])[]): Float32Array =>
  Float32Array.from(list.flatMap(([lab, columns]) => Array.from({ length: columns }, () => [...lab]).flat()));

const level = () => 1;
const all = (n: number) => new Uint8Array(n).fill(1);

describe('fitRepeat', () => {
  const uneven = [
    [LIGHT, 3],
    [DARK, 10],
    [LIGHT, 4],
    [OCHRE, 3],
    [LIGHT, 7],
    [DARK, 8],
    [LIGHT, 6],
    [OCHRE, 2],
    [LIGHT, 5],
    [DARK, 4],
  ] as const;
  const starts = uneven.map((_, i) => uneven.slice(0, i).reduce((s, [, w]) => s + w, 0));

  it('follows uneven bands and knows each by its place', () => {
    const lab = profileOf(uneven);
    const fit = fitRepeat(lab, all(lab.length / 3), 0, lab.length / 3, TEMPLATE, level);
    expect(fit.starts).toEqual(starts);
    expect(fit.bands).toEqual([3, 0, 1, 2, 3, 0, 1, 2, 3, 0]);
    expect(fit.repeats.map((r) => r - fit.repeats[0])).toEqual([0, 1, 1, 1, 1, 2, 2, 2, 2, 3]);
  });

  it('keeps the count through a band of the wrong colour and a stretch not seen', () => {
    const smudged = uneven.map(([lab, w], i) => [i === 3 ? LIGHT : lab, w] as const);
    const lab = profileOf(smudged);
    const seen = all(lab.length / 3).fill(0, starts[6] - 2, starts[8] + 2);
    const fit = fitRepeat(lab, seen, 0, lab.length / 3, TEMPLATE, level);
    expect(fit.bands).toEqual([3, 0, 1, 2, 3, 0, 1, 2, 3, 0]);
    expect(fit.starts[1]).toBe(starts[1]);
    expect(fit.starts[9]).toBe(starts[9]);
  });

  it('follows bands that grow across the picture when told so', () => {
    const grown = Array.from({ length: 20 }, (_, i) => {
      const { lab, columns } = TEMPLATE[i % 4];
      return [lab, Math.round(columns * Math.exp(0.08 * i))] as const;
    });
    const ends = grown.map((_, i) => grown.slice(0, i + 1).reduce((s, [, w]) => s + w, 0));
    const lab = profileOf(grown);
    const stretch = (x: number) =>
      Math.exp(
        0.08 *
          Math.max(
            0,
            ends.findIndex((e) => e >= x),
          ),
      );
    const fit = fitRepeat(lab, all(lab.length / 3), 0, lab.length / 3, TEMPLATE, stretch);
    expect(fit.starts).toEqual([0, ...ends.slice(0, -1)]);
  });

  it('costs less for the true order than for any other', () => {
    const lab = profileOf(uneven);
    const cost = (template: readonly TemplateBand[]) =>
      fitRepeat(lab, all(lab.length / 3), 0, lab.length / 3, template, level).cost;
    const [a, b, c, d] = TEMPLATE;
    const own = cost(TEMPLATE);
    // Turned, it is the same repeat; in another order or without a band it is not.
    expect(cost([c, d, a, b])).toBeCloseTo(own, 9);
    for (const other of [[a, c, b, d], [a, b], [a, b, c], [d, c, b, a].map((t) => ({ ...t, lab: OCHRE }))]) {
      expect(cost(other)).toBeGreaterThan(own + 5);
    }
  });

  describe('a shaded band', () => {
    const from: Lab = [25, -7, 10];
    const run: Lab = [14, 36, 28];
    // As the shaded band at its middle: laid evenly, the band beside it would take some of its columns.
    const beside: Lab = [34, -8, 22];
    const shaded = (first: number, last: number, columns: number): (readonly [Lab, number])[] =>
      Array.from({ length: last - first }, (_, i) => {
        const part = (first + i + 0.5) / columns;
        return [from.map((v, c) => v + part * run[c]) as unknown as Lab, 1] as const;
      });
    const template: TemplateBand[] = [
      { lab: beside, columns: 20 },
      { lab: [32, 11, 24], columns: 60, run },
      { lab: DARK, columns: 30 },
    ];
    // The view begins in the second half of one shaded band and ends in the first third of another.
    const lab = profileOf([
      ...shaded(40, 60, 60),
      [DARK, 31],
      [beside, 19],
      ...shaded(0, 62, 62),
      [DARK, 30],
      [beside, 21],
      ...shaded(0, 20, 60),
    ]);
    const columns = lab.length / 3;
    const edges = [0, 20, 51, 70, 132, 162, 183];

    it('is laid by how its colour runs, from edge to edge', () => {
      const fit = fitRepeat(lab, all(columns), 0, columns, template, level);
      expect(fit.bands).toEqual([1, 2, 0, 1, 2, 0, 1]);
      expect(fit.starts).toEqual(edges);
    });

    it('is not where it were one even colour', () => {
      const even = template.map(({ lab: own, columns: wide }) => ({ lab: own, columns: wide }));
      expect(fitRepeat(lab, all(columns), 0, columns, even, level).starts).not.toEqual(edges);
    });
  });
});
