import { describe, expect, it } from 'vitest';
import { partition } from '../../../src/core/stripes/partition.js';
import { seededRandom } from '../../support/photo-painter/seeded-random.js';

type Blurred = readonly [number, number, number];

/** Sum of squares about the mean, a channel at a time, of a piece without its blurred ends. */
function costOf(values: readonly number[], from: number, to: number, blurred: Blurred): number {
  let cost = 0;
  for (let c = 0; c < 3; c++) {
    const own: number[] = [];
    for (let i = from + blurred[c]; i < to - blurred[c]; i++) own.push(values[3 * i + c]);
    const mean = own.reduce((s, v) => s + v, 0) / own.length;
    cost += own.reduce((s, v) => s + (v - mean) ** 2, 0);
  }
  return cost;
}

const totalCost = (
  values: readonly number[],
  starts: readonly number[],
  penalty: number,
  blurred: Blurred,
): number => {
  const bounds = [0, ...starts, values.length / 3];
  return bounds
    .slice(1)
    .reduce((sum, to, k) => sum + costOf(values, bounds[k], to, blurred) + (k > 0 ? penalty : 0), 0);
};

/** Every way to cut n entries into pieces of at least `shortest`. */
function everyCut(n: number, shortest: number): number[][] {
  const cuts: number[][] = [];
  for (let mask = 0; mask < 1 << (n - 1); mask++) {
    const starts = Array.from({ length: n - 1 }, (_, i) => i + 1).filter((i) => mask & (1 << (i - 1)));
    const bounds = [0, ...starts, n];
    if (bounds.slice(1).every((b, k) => b - bounds[k] >= shortest)) cuts.push(starts);
  }
  return cuts;
}

describe('partition', () => {
  it.each([[[0, 0, 0]], [[1, 1, 1]], [[1, 2, 2]]] as const)(
    'is the cheapest of all partitions of short sequences (blur %j)',
    (blurred) => {
      const random = seededRandom(11);
      for (let trial = 0; trial < 60; trial++) {
        const n = 8 + (trial % 5);
        let level = [0, 0, 0];
        const values = Array.from({ length: n }, () => {
          if (random.uniform() < 0.25) level = level.map(() => random.between(0, 6));
          return level.map((v) => v + random.gaussian());
        }).flat();
        const penalty = random.between(0.5, 8);
        const starts = partition(values, 0, n, penalty, blurred);
        const least = Math.min(
          ...everyCut(n, 2 * blurred[0] + 1).map((cut) => totalCost(values, cut, penalty, blurred)),
        );
        expect(totalCost(values, starts, penalty, blurred)).toBeCloseTo(least, 9);
      }
    },
  );

  it('cuts a clean sequence at its steps, wherever the part looked at begins', () => {
    const values = [0, 0, 0, 0, 5, 5, 5, 5, 5, 1, 1, 1, 1, 1, 1].flatMap((v) => [v, 2 * v, -v]);
    expect(partition(values, 0, 15, 1)).toEqual([4, 9]);
    expect(partition(values, 2, 15, 1)).toEqual([4, 9]);
  });

  it('makes no piece of a gradual step', () => {
    const values = [0, 0, 0, 0, 0, 3, 7, 10, 10, 10, 10, 10].flatMap((v) => [v, v, v]);
    expect(partition(values, 0, 12, 1).length).toBeGreaterThan(1);
    expect(partition(values, 0, 12, 1, [1, 1, 1])).toEqual([6]);
  });
});
