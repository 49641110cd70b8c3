import { describe, expect, it } from 'vitest';
import { medianSlope } from '../../../src/core/math/median-slope.js';

describe('medianSlope', () => {
  const line = (n: number) => Array.from({ length: n }, (_, i) => ({ x: 3 * i, y: 7 - 0.25 * 3 * i }));

  it('is the slope of points on a line, few or many', () => {
    for (const n of [2, 5, 40, 333]) expect(medianSlope(line(n))).toBeCloseTo(-0.25, 12);
  });

  // A quarter of the points may be anything: the pairs without them are 9 of 16 (Sen 1968: breakdown at 29 %).
  it('is not turned by a quarter of strays', () => {
    const strays = line(40).map((p, i) => (i % 4 === 0 ? { x: p.x, y: 1000 } : p));
    expect(medianSlope(strays)).toBeCloseTo(-0.25, 12);
  });

  it('is level without two points apart', () => {
    expect(medianSlope([])).toBe(0);
    expect(
      medianSlope([
        { x: 1, y: 1 },
        { x: 1, y: 5 },
      ]),
    ).toBe(0);
  });
});
