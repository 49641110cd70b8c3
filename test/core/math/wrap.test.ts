import { expect, it } from 'vitest';
import { halfTurn, wrap } from '../../../src/core/math/wrap.js';

it('brings any value into its period without changing what it is a multiple away from', () => {
  for (const period of [3, 0.7, 41.8]) {
    for (let value = -200; value < 200; value += 7.3) {
      const inside = wrap(value, period);
      expect(inside).toBeGreaterThanOrEqual(0);
      expect(inside).toBeLessThan(period);
      const turns = (value - inside) / period;
      expect(Math.abs(turns - Math.round(turns))).toBeLessThan(1e-9);
    }
  }
});

it('takes half turns off an angle until a quarter turn at most is left', () => {
  for (let angle = -20; angle < 20; angle += 0.37) {
    const left = halfTurn(angle);
    expect(Math.abs(left)).toBeLessThanOrEqual(Math.PI / 2 + 1e-12);
    // The same line: twice the angle is the same but for whole turns.
    expect(Math.cos(2 * left)).toBeCloseTo(Math.cos(2 * angle), 12);
    expect(Math.sin(2 * left)).toBeCloseTo(Math.sin(2 * angle), 12);
  }
});
