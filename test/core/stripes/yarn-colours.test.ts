import { describe, expect, it } from 'vitest';
import { type MixedBand, yarnColours } from '../../../src/core/stripes/yarn-colours.js';

type Linear = readonly [number, number, number];
interface Yarn {
  readonly colour: Linear;
  readonly widthMm: number;
}

const INDIGO: Linear = [0.023, 0.043, 0.125];
const IVORY: Linear = [0.83, 0.76, 0.6];
const OCHRE: Linear = [0.51, 0.24, 0.04];
const MADDER: Linear = [0.26, 0.04, 0.025];

const mean = (yarns: readonly Yarn[], c: number): number =>
  yarns.reduce((s, y) => s + y.colour[c] * y.widthMm, 0) / yarns.reduce((s, y) => s + y.widthMm, 0);

/** What each band shows on the average over the other direction: half its own yarn, half the mean of the others. */
const woven = (own: readonly Yarn[], other: readonly Yarn[]): MixedBand[] =>
  own.map(({ colour, widthMm }) => ({
    linear: [0, 1, 2].map((c) => (colour[c] + mean(other, c)) / 2) as unknown as Linear,
    widthMm,
  }));

function expectYarns(across: readonly Yarn[], along: readonly Yarn[]): void {
  const found = yarnColours(woven(across, along), woven(along, across));
  const check = (got: readonly Linear[], wanted: readonly Yarn[]): void =>
    wanted.forEach(({ colour }, i) => {
      for (let c = 0; c < 3; c++) expect(got[i][c]).toBeCloseTo(colour[c], 6);
    });
  check(found.across, across);
  check(found.along, along);
}

const yarns = (...list: readonly (readonly [Linear, number])[]): Yarn[] =>
  list.map(([colour, widthMm]) => ({ colour, widthMm }));

describe('yarnColours', () => {
  it('finds the yarns of the same sequence woven both ways', () => {
    const sett = yarns([INDIGO, 16], [IVORY, 12], [OCHRE, 6], [IVORY, 12]);
    expectYarns(sett, sett);
  });

  it('finds yarns that two different sequences share, whatever their means', () => {
    expectYarns(yarns([INDIGO, 20], [IVORY, 5]), yarns([IVORY, 18], [INDIGO, 4]));
    expectYarns(yarns([INDIGO, 20], [IVORY, 9], [MADDER, 3]), yarns([IVORY, 14], [INDIGO, 6]));
  });

  it('never makes a colour that no dye has', () => {
    const found = yarnColours(
      woven(yarns([IVORY, 5], [OCHRE, 5]), yarns([INDIGO, 9], [MADDER, 1])),
      woven(yarns([INDIGO, 9], [MADDER, 1]), yarns([IVORY, 5], [OCHRE, 5])),
    );
    for (const colour of [...found.across, ...found.along])
      for (const v of colour) expect(v >= 0 && v <= 1).toBe(true);
  });
});
