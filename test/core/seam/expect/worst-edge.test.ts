import { describe, expect, it } from 'vitest';
import type { MissModel } from '../../../../src/core/seam/expect/miss-model.js';
import { drawSeams } from '../../../../src/core/seam/expect/worst-edge.js';
import { seededRandom } from '../../../support/photo-painter/seeded-random.js';

/** A seam of so many edges that each stray by themselves, by 0.3 mm. */
const seamOf = (edges: number): MissModel => ({
  edges: Array.from({ length: edges }, (_, edge) => ({ edge, centreMm: 0 })),
  first: 0,
  last: edges - 1,
  sizes: [{ weight: 1, scatter: [], steps: [] }],
  spreadsOf: () => ({
    scatterSd: new Float64Array(edges).fill(0.3),
    stepSd: new Float64Array(edges),
  }),
});

describe('seams drawn by chance', () => {
  // No figure shows how many there were but by its own scatter: the counts that the stated accuracy was seen with.
  it.each([
    [20, 4000],
    [100, 2000],
    [800, 400],
  ])('of %i edges are %i', (edges, seams) => {
    expect(drawSeams(seamOf(edges), seededRandom(1)).highMm).toHaveLength(seams);
  });
});
