import { describe, expect, it } from 'vitest';
import { runningMisfit, runOver } from '../../../src/core/stripes/running-colour.js';
import { seededRandom } from '../../support/photo-painter/seeded-random.js';

describe('a colour that runs from one side of a band to the other', () => {
  const random = seededRandom(11);
  const lab = Float64Array.from({ length: 3 * 200 }, () => 100 * random.uniform());
  const seen = Uint8Array.from({ length: 200 }, (_, x) => (x % 17 === 3 || (x > 90 && x < 104) ? 0 : 1));
  const colour = { lab: [50, 10, -20], run: [30, -12, 25] } as const;

  it('misfits a stretch by as much as the sum column by column says', () => {
    const from = 20;
    const misfit = runningMisfit(lab, seen, from, 190);
    for (const [start, length, a, b] of [
      [10, 40, 10, 50],
      [-5, 40, 0, 35],
      [60, 80, 60, 100],
      [120, 90, 120, 170],
    ]) {
      let direct = 0;
      for (let i = a; i < b; i++) {
        if (!seen[from + i]) continue;
        const part = (i + 0.5 - start) / length - 0.5;
        for (let c = 0; c < 3; c++)
          direct += (lab[3 * (from + i) + c] - colour.lab[c] - part * colour.run[c]) ** 2;
      }
      expect(misfit(colour, start, length, a, b) / direct).toBeCloseTo(1, 9);
    }
  });

  it('is told by how much it runs over the whole band, not over its middle', () => {
    const line = Float64Array.from({ length: 3 * 60 }, (_, i) => [20, 0.5, -0.25][i % 3] * Math.floor(i / 3));
    const run = runOver(line, 10, 50);
    [800, 20, -10].forEach((expected, c) => {
      expect(run[c]).toBeCloseTo(expected, 9);
    });
    expect(runOver(line, 10, 11)).toEqual([0, 0, 0]);
  });
});
