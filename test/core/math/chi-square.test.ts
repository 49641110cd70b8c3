import { expect, it } from 'vitest';
import { chiSquareQuantile } from '../../../src/core/math/chi-square.js';

// Abramowitz and Stegun (1964), table 26.8, as remembered: chi-square exceeded with probability 1 - q.
it.each([
  [3, 0.1, 0.5844],
  [3, 0.5, 2.366],
  [3, 0.95, 7.815],
  [10, 0.05, 3.94],
  [10, 0.5, 9.342],
  [10, 0.95, 18.307],
  [30, 0.9, 40.256],
])('has the published value for %i degrees of freedom at %f', (freedom, q, value) => {
  expect(Math.abs(chiSquareQuantile(freedom, q) / value - 1)).toBeLessThan(0.02);
});
