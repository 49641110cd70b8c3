import { describe, expect, it } from 'vitest';
import { labFromLinear } from '../../../src/core/colour/lab.js';
import type { LaidRepeat } from '../../../src/core/stripes/lay-repeat.js';
import { NODES_ACROSS } from '../../../src/core/stripes/light-field.js';
import { timesLonger } from '../../../src/core/stripes/longer-repeat.js';
import { seededRandom } from '../../support/photo-painter/seeded-random.js';

const INDIGO: [number, number, number] = [0.03, 0.05, 0.13];
const IVORY: [number, number, number] = [0.83, 0.76, 0.6];

interface Look {
  readonly bandsPerRepeat: number;
  /** Light on each instance, 1 the usual. */
  readonly lightOf: (count: number) => number;
}

/**
 * Two bands, or as many, in two colours, laid over all the cloth; width of each instance from its number, columns. Numbers in `hidden`
 * lie under a ruler.
 */
function laid(
  widthOf: (count: number) => number,
  bands: number,
  hidden: readonly [number, number] = [0, 0],
  { bandsPerRepeat, lightOf }: Look = { bandsPerRepeat: 2, lightOf: () => 1 },
): LaidRepeat {
  const runs: { segments: object[]; places: object[] }[] = [{ segments: [], places: [] }];
  let at = 0;
  for (let count = 0; count < bands; count++) {
    const linear = (count % 2 === 0 ? INDIGO : IVORY).map((v) => v * lightOf(count)) as [
      number,
      number,
      number,
    ];
    const from = at;
    at += widthOf(count);
    if (count >= hidden[0] && count < hidden[1]) {
      if (count === hidden[0]) runs.push({ segments: [], places: [] });
      continue;
    }
    const run = runs[runs.length - 1];
    run.segments.push({ from, to: at, linear, lab: labFromLinear(linear) });
    run.places.push({ band: count % bandsPerRepeat, repeat: Math.floor(count / bandsPerRepeat) });
  }
  return {
    template: Array.from({ length: bandsPerRepeat }, (_, b) => ({
      lab: labFromLinear(b % 2 === 0 ? INDIGO : IVORY),
      columns: 20,
    })),
    runs: runs as unknown as LaidRepeat['runs'],
    across: new Float64Array(NODES_ACROSS),
    columns: Math.ceil(at),
    score: 1,
    misfit: 0,
  };
}

describe('how many short repeats make the true one', () => {
  const seeds = [1, 2, 3, 4, 5, 6];

  it.each(seeds)('is two where every other wide band is wider, also beside a ruler (seed %d)', (seed) => {
    const random = seededRandom(seed);
    const width = (count: number) => [46, 24, 36, 24][count % 4] * Math.exp(0.01 * random.gaussian());
    expect(timesLonger(laid(width, 34))).toBe(2);
    // A ruler along the stripes hides some; nor must six be taken for two then.
    expect(timesLonger(laid(width, 34, [13, 16]))).toBe(2);
  });

  it.each([10, 11, 12, 14, 16, 18, 20, 22, 26])('is two however few are in view: %d bands', (bands) => {
    const random = seededRandom(bands);
    const width = (count: number) => [38, 38, 54, 38][count % 4] * Math.exp(0.008 * random.gaussian());
    expect(timesLonger(laid(width, bands))).toBe(2);
  });

  it.each([8, 9, 10, 11, 12, 14, 16, 18, 20, 22, 26])(
    'is one where %d bands are uneven by chance',
    (bands) => {
      for (const seed of seeds) {
        const random = seededRandom(100 * seed + bands);
        const width = (count: number) => [40, 24][count % 2] * Math.exp(0.03 * random.gaussian());
        expect(timesLonger(laid(width, bands))).toBe(1);
      }
    },
  );

  it.each(seeds)('is told though a few bands are cut short by something (seed %d)', (seed) => {
    const random = seededRandom(seed);
    const width = (count: number) =>
      [46, 24, 36, 24][count % 4] * (count % 17 === 16 ? 0.5 : 1) * Math.exp(0.01 * random.gaussian());
    expect(timesLonger(laid(width, 40))).toBe(2);
  });

  it.each(seeds)('is one where bands are uneven by chance (seed %d)', (seed) => {
    const random = seededRandom(seed);
    expect(timesLonger(laid((count) => [40, 24][count % 2] * Math.exp(0.03 * random.gaussian()), 36))).toBe(
      1,
    );
  });

  it.each([3, 4, 5])('is one where folds at every %d-th repeat narrow all its bands alike', (every) => {
    const random = seededRandom(9);
    const width = (count: number) => {
      const fold = Math.floor(count / 2) % every === 0 ? 0.9 : 1;
      return [40, 24][count % 2] * fold * Math.exp(0.008 * random.gaussian());
    };
    expect(timesLonger(laid(width, 44))).toBe(1);
  });

  it.each(seeds)('is one where the cloth ends within the last band but one (seed %d)', (seed) => {
    const random = seededRandom(seed);
    const width = (count: number) =>
      [16, 28][count % 2] * (count === 15 ? 0.45 : 1) * Math.exp(0.03 * random.gaussian());
    expect(timesLonger(laid(width, 17))).toBe(1);
  });

  it.each(seeds)(
    'is three where some of its bands are half as wide as others of their place (seed %d)',
    (seed) => {
      const random = seededRandom(seed);
      const width = (count: number) =>
        [17, 19, 16, 10, 20, 10][count % 6] * Math.exp(0.03 * random.gaussian());
      expect(timesLonger(laid(width, 46))).toBe(3);
    },
  );

  it.each(seeds)('is one under soft shadows that lie three repeats apart (seed %d)', (seed) => {
    const random = seededRandom(seed);
    const width = (count: number) => 20 + 4 * (count % 8) + 0.05 * random.gaussian();
    const shadow = (count: number) =>
      Math.exp(-0.12 * Math.cos((2 * Math.PI * (count + 5)) / 24) + 0.02 * random.gaussian());
    expect(timesLonger(laid(width, 62, [0, 0], { bandsPerRepeat: 8, lightOf: shadow }))).toBe(1);
  });

  it.each(seeds)('is three where one of eight bands is lighter every third time (seed %d)', (seed) => {
    const random = seededRandom(seed);
    const width = (count: number) => 20 + 4 * (count % 8) + 0.05 * random.gaussian();
    const light = (count: number) => Math.exp((count % 24 === 11 ? 0.3 : 0) + 0.006 * random.gaussian());
    expect(timesLonger(laid(width, 62, [0, 0], { bandsPerRepeat: 8, lightOf: light }))).toBe(3);
  });
});
