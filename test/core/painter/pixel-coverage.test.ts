import { describe, expect, it } from 'vitest';
import { coverage } from '../../support/photo-painter/pixel-coverage.js';
import { seededRandom } from '../../support/photo-painter/seeded-random.js';

describe('share of a pixel on one side of an edge', () => {
  it('agrees with counting points, at any slope and offset', () => {
    const random = seededRandom(3);
    const steps = 200;
    for (let trial = 0; trial < 60; trial++) {
      const gradX = random.between(-2, 2);
      const gradY = random.between(-2, 2);
      const value = random.between(-2.2, 2.2);
      let inside = 0;
      for (let i = 0; i < steps; i++)
        for (let j = 0; j < steps; j++)
          if (value + gradX * ((i + 0.5) / steps - 0.5) + gradY * ((j + 0.5) / steps - 0.5) >= 0) inside++;
      expect(coverage(value, gradX, gradY)).toBeCloseTo(inside / steps ** 2, 2);
    }
  });

  it('leaves nothing over between the two sides', () => {
    for (const value of [-0.6, -0.2, 0, 0.31, 0.7])
      expect(coverage(value, 0.8, -0.3) + coverage(-value, 0.8, -0.3)).toBeCloseTo(1, 12);
  });

  it('is a hard step where the pixel has no extent', () => {
    expect(coverage(0.1, 0, 0)).toBe(1);
    expect(coverage(-0.1, 0, 0)).toBe(0);
  });
});
