import { describe, expect, it } from 'vitest';
import { meanSd, sharedUnevenness, spreadOf } from '../../../src/core/stripes/band-statistics.js';
import { seededRandom } from '../../support/photo-painter/seeded-random.js';

describe("the standard deviation of a band's mean width", () => {
  it('is that of the widths over the root of their number where all bands are as uneven (closed form)', () => {
    const widths = spreadOf([19, 21]);
    // Sample variance 2; the shared unevenness is that of this band alone: 2 / 20^2.
    const shared = sharedUnevenness([widths]);
    expect(shared).toBeCloseTo(Math.SQRT2 / 20, 12);
    expect(meanSd(widths, shared)).toBeCloseTo(1, 12);
  });

  it('is as usual, one in a hundred, for a single instance and nothing else to go by', () => {
    expect(meanSd(spreadOf([30]), sharedUnevenness([spreadOf([30]), null]))).toBeCloseTo(0.3, 12);
  });

  it('holds for few instances, where two may agree by chance', () => {
    const random = seededRandom(8);
    const misses: number[] = [];
    for (let cloth = 0; cloth < 400; cloth++) {
      const spreads = [12, 30, 7, 18, 22, 9].map((width) =>
        spreadOf([0, 1].map(() => width * (1 + 0.03 * random.gaussian()))),
      );
      const shared = sharedUnevenness(spreads);
      [12, 30, 7, 18, 22, 9].forEach((width, b) => {
        misses.push((spreads[b].mean - width) / meanSd(spreads[b], shared));
      });
    }
    const sd = Math.sqrt(misses.reduce((sum, z) => sum + z * z, 0) / misses.length);
    expect(sd).toBeGreaterThan(0.8);
    expect(sd).toBeLessThan(1.3);
    expect(misses.filter((z) => Math.abs(z) > 3).length / misses.length).toBeLessThan(0.04);
  });
});
