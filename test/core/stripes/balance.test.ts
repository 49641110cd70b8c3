import { describe, expect, it } from 'vitest';
import { type BalanceBand, balanceOf } from '../../../src/core/stripes/balance.js';

const bandsOf = (...list: readonly [string, number][]): BalanceBand[] =>
  list.map(([colour, widthMm]) => ({ colour, widthMm, sdMm: 0 }));

/** All cyclic lists of n bands in three colours and two widths, unlike neighbours, that are no shorter list over again. */
function everyRepeat(n: number): BalanceBand[][] {
  const found: BalanceBand[][] = [];
  const kinds = ['a', 'b', 'c'].flatMap((colour) =>
    [10, 20].map((widthMm) => ({ colour, widthMm, sdMm: 0 })),
  );
  const grow = (list: BalanceBand[]): void => {
    if (list.length === n) {
      if (list[0].colour === list[n - 1].colour) return;
      const text = list.map((b) => b.colour + b.widthMm);
      const repeats = (d: number) => n % d === 0 && text.every((t, i) => t === text[(i + d) % n]);
      if (!Array.from({ length: n - 1 }, (_, i) => i + 1).some(repeats)) found.push(list);
      return;
    }
    for (const kind of kinds) if (kind.colour !== list.at(-1)?.colour) grow([...list, kind]);
  };
  grow([]);
  return found;
}

describe('balanceOf', () => {
  // Reading a list backwards and asking whether that is a turn of itself, over all lists: counted by brute force elsewhere.
  it.each([
    [2, 24, 24],
    [3, 0, 48],
    [4, 144, 264],
    [5, 0, 960],
    [6, 1080, 4152],
  ])('finds of all repeats of %d bands %d of %d balanced', (n, balanced, all) => {
    const lists = everyRepeat(n);
    expect(lists).toHaveLength(all);
    expect(lists.filter((list) => balanceOf(list).balanced)).toHaveLength(balanced);
  });

  it.each([
    [bandsOf(['x', 24], ['y', 8]), true],
    [bandsOf(['x', 20], ['y', 6], ['z', 10]), false],
    [bandsOf(['x', 10], ['y', 10], ['x', 10], ['z', 10]), true],
    [bandsOf(['x', 12], ['y', 6], ['x', 8], ['z', 6]), false],
  ])('judges %j', (bands, balanced) => {
    expect(balanceOf(bands).balanced).toBe(balanced);
  });

  it('puts two axes half a repeat apart, in the middle of bands, with score 1', () => {
    const { axesMm, score } = balanceOf(
      bandsOf(['x', 10], ['y', 6], ['x', 14], ['z', 4], ['x', 14], ['y', 6]),
    );
    expect(score).toBeCloseTo(1, 12);
    expect(axesMm).toHaveLength(2);
    expect(axesMm[1] - axesMm[0]).toBeCloseTo(27, 12);
    expect(axesMm[0]).toBeCloseTo(5, 12);
  });

  it('allows widths to differ by what they are uncertain', () => {
    const off = (sdMm: number) =>
      balanceOf([
        { colour: 'x', widthMm: 12, sdMm },
        { colour: 'y', widthMm: 6, sdMm },
        { colour: 'x', widthMm: 14, sdMm },
        { colour: 'z', widthMm: 6, sdMm },
        { colour: 'x', widthMm: 13, sdMm },
        { colour: 'y', widthMm: 6, sdMm },
      ]);
    expect(off(0).balanced).toBe(false);
    expect(off(0.3).balanced).toBe(true);
  });
});
