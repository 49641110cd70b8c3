import { describe, expect, test } from 'vitest';
import { type CostGraph, type CostTable, costOf } from '../../../src/core/place/search/cost-graph.js';
import { leastCost } from '../../../src/core/place/search/least-cost.js';
import { seededRandom } from '../../support/photo-painter/seeded-random.js';

function drawnGraph(seed: number): CostGraph {
  const draw = seededRandom(seed).uniform;
  const count = 2 + Math.floor(draw() * 4);
  const sizes = Array.from({ length: count }, () => 2 + Math.floor(draw() * 4));
  const tables: CostTable[] = [];
  for (let a = 0; a < count; a++) {
    if (draw() < 0.7) tables.push({ of: [a], cost: Float64Array.from({ length: sizes[a] }, draw) });
    for (let b = a + 1; b < count; b++)
      if (draw() < 0.7)
        tables.push({ of: [a, b], cost: Float64Array.from({ length: sizes[a] * sizes[b] }, draw) });
  }
  return { sizes, tables };
}

function cheapestByTrying({ sizes, ...rest }: CostGraph): number {
  const choice = new Int32Array(sizes.length);
  let least = Number.POSITIVE_INFINITY;
  const visit = (k: number): void => {
    if (k === sizes.length) {
      least = Math.min(least, costOf({ sizes, ...rest }, choice));
      return;
    }
    for (let s = 0; s < sizes[k]; s++) {
      choice[k] = s;
      visit(k + 1);
    }
  };
  visit(0);
  return least;
}

describe('the cheapest choice', () => {
  test.each(Array.from({ length: 60 }, (_, k) => k + 1))(
    'of graph %i is the one that trying all finds',
    (seed) => {
      const graph = drawnGraph(seed);
      const found = leastCost(graph);
      expect(found.cost).toBeCloseTo(cheapestByTrying(graph), 9);
      expect(costOf(graph, found.choice)).toBeCloseTo(found.cost, 9);
      expect(found.isProved).toBe(true);
    },
  );

  test('of variables tied all with all, too many for one table, is found by its bounds', () => {
    // Five variables of 60 states each: tables of four of them would have 13 million entries, of five 778 million.
    const draw = seededRandom(9).uniform;
    const sizes = [60, 60, 60, 60, 60];
    const tables: CostTable[] = [];
    const hidden = sizes.map((size) => Math.floor(draw() * size));
    for (let a = 0; a < 5; a++)
      for (let b = a + 1; b < 5; b++)
        tables.push({
          of: [a, b],
          cost: Float64Array.from({ length: 3600 }, (_, k) =>
            Math.floor(k / 60) === hidden[a] && k % 60 === hidden[b] ? 0 : 1 + draw(),
          ),
        });
    const found = leastCost({ sizes, tables });
    expect([...found.choice]).toEqual(hidden);
    expect(found.cost).toBe(0);
  });
});
