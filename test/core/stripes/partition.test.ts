import { describe, expect, it } from 'vitest';
import { partition } from '../../../src/core/stripes/partition.js';
import { seededRandom } from '../../support/photo-painter/seeded-random.js';

const ones = (n: number): Float64Array => new Float64Array(n).fill(1);

/** Every way of cutting n entries into pieces of at least `shortest`. */
function* cuts(n: number, shortest: number, from = 0): Generator<number[]> {
  if (n - from >= shortest) yield [];
  for (let at = from + shortest; n - at >= shortest; at++) {
    for (const rest of cuts(n, shortest, at)) yield [at, ...rest];
  }
}

function costOf(
  values: Float64Array,
  weights: Float64Array,
  starts: readonly number[],
  penalty: number,
): number {
  const bounds = [0, ...starts, weights.length];
  let cost = starts.length * penalty;
  for (let p = 0; p + 1 < bounds.length; p++) {
    for (let c = 0; c < 3; c++) {
      let mass = 0;
      let sum = 0;
      for (let i = bounds[p]; i < bounds[p + 1]; i++) {
        mass += weights[i];
        sum += weights[i] * values[3 * i + c];
      }
      for (let i = bounds[p]; i < bounds[p + 1]; i++)
        cost += weights[i] * (values[3 * i + c] - sum / mass) ** 2;
    }
  }
  return cost;
}

describe('partition', () => {
  it('costs no more than the best of all partitions there are', () => {
    const random = seededRandom(11);
    for (let trial = 0; trial < 25; trial++) {
      const n = 9 + (trial % 5);
      const values = Float64Array.from(
        { length: 3 * n },
        () => Math.round(3 * random.uniform()) + 0.3 * random.gaussian(),
      );
      const weights = trial % 2 ? ones(n) : Float64Array.from({ length: n }, () => random.between(0.1, 1));
      const penalty = random.between(0.3, 4);
      const found = costOf(values, weights, partition(values, weights, 0, n, penalty), penalty);
      const least = Math.min(...[...cuts(n, 2)].map((starts) => costOf(values, weights, starts, penalty)));
      expect(found, `seed 11, trial ${trial}`).toBeCloseTo(least, 8);
    }
  });

  it('finds steps exactly and none where there is none', () => {
    const steps = Float64Array.from({ length: 300 }, (_, i) =>
      Math.floor(i / 3) < 40 || Math.floor(i / 3) >= 43 ? 1 : 5,
    );
    expect(partition(steps, ones(100), 0, 100, 1)).toEqual([40, 43]);
    expect(partition(new Float64Array(300).fill(2), ones(100), 0, 100, 0.1)).toEqual([]);
  });
});
