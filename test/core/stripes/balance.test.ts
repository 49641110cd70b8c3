import { describe, expect, it } from 'vitest';
import { type BalanceBand, balanceOf } from '../../../src/core/stripes/balance.js';

const band = (colour: string, widthMm: number, sdMm = 0): BalanceBand => ({ colour, widthMm, sdMm });

/** All cyclic lists of n bands in 3 colours and 2 widths whose neighbours differ in colour and that repeat nothing shorter. */
function* lists(n: number): Generator<BalanceBand[]> {
  for (let code = 0; code < 6 ** n; code++) {
    const digits = Array.from({ length: n }, (_, i) => Math.floor(code / 6 ** i) % 6);
    const unlike = digits.every((d, i) => d % 3 !== digits[(i + 1) % n] % 3);
    const shorter = Array.from({ length: n - 1 }, (_, i) => i + 1).some(
      (p) => n % p === 0 && digits.every((d, i) => d === digits[(i + p) % n]),
    );
    if (unlike && !shorter) yield digits.map((d) => band('ABC'[d % 3], d < 3 ? 6 : 11));
  }
}

/** The definition itself: read backwards, the list is a rotation of itself. */
function isOwnReverse(list: readonly BalanceBand[]): boolean {
  const text = (bands: readonly BalanceBand[]) => bands.map((b) => `${b.colour}${b.widthMm}`).join(' ');
  const back = text([...list].reverse());
  return list.some((_, i) => text([...list.slice(i), ...list.slice(0, i)]) === back);
}

describe('balanceOf', () => {
  // Counts: brute force over the same lists by the definition, worked out apart from this code.
  it.each([
    [2, 24, 24],
    [3, 0, 48],
    [4, 144, 264],
    [5, 0, 960],
    [6, 1080, 4152],
  ])('of lists of %i bands %i in %i are balanced', (n, balanced, all) => {
    let found = 0;
    let count = 0;
    for (const list of lists(n)) {
      count++;
      const result = balanceOf(list);
      expect(result.balanced).toBe(isOwnReverse(list));
      if (!result.balanced) continue;
      found++;
      const repeat = list.reduce((sum, b) => sum + b.widthMm, 0);
      expect(result.score).toBeCloseTo(1, 9);
      // The two axes of a repeat are half a repeat apart.
      expect(result.axesMm).toHaveLength(2);
      expect(result.axesMm[1] - result.axesMm[0]).toBeCloseTo(repeat / 2, 9);
    }
    expect([found, count]).toEqual([balanced, all]);
  });

  it('allows what the widths are known to, no more', () => {
    const cloth = (last: number, sdMm: number) => [
      band('A', 20),
      band('B', 6, sdMm),
      band('C', 10),
      band('B', last, sdMm),
    ];
    expect(balanceOf(cloth(6.2, 0.01)).balanced).toBe(true);
    expect(balanceOf(cloth(7, 0.01)).balanced).toBe(false);
    expect(balanceOf(cloth(7, 0.3)).balanced).toBe(true);
  });
});
