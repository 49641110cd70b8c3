import { expect, it } from 'vitest';
import { wrap } from '../../../src/core/math/wrap.js';

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
