import { describe, expect, it } from 'vitest';
import { fitLattice } from '../../../src/core/stripes/edge-lattice.js';
import type { BandPlace } from '../../../src/core/stripes/stripe-reading.js';
import { seededRandom } from '../../support/photo-painter/seeded-random.js';

const OFFSETS = [0, 18, 24, 28];
const PERIOD = 37;

function edges(repeats: number, error: () => number): { places: BandPlace[]; u: number[] } {
  const places: BandPlace[] = [];
  const u: number[] = [];
  for (let repeat = 0; repeat < repeats; repeat++) {
    OFFSETS.forEach((offset, band) => {
      places.push({ band, repeat });
      u.push(3 + offset + repeat * PERIOD + error());
    });
  }
  return { places, u };
}

describe('fitLattice', () => {
  it('finds clean edges exactly', () => {
    const { places, u } = edges(5, () => 0);
    const fit = fitLattice(u, places, 4);
    expect(fit?.periodMm).toBeCloseTo(PERIOD, 9);
    for (const [b, o] of (fit?.offsetsMm ?? []).entries()) expect(o).toBeCloseTo(3 + OFFSETS[b], 9);
  });

  it('errs as little as the Cramér-Rao bound allows, and says how much', () => {
    // Edges with independent errors: sd(period) >= sd(edge) / sqrt(sum (k - mean k)^2), the sum over each band's repeats.
    const random = seededRandom(7);
    const sd = 0.05;
    const repeats = 8;
    let spread = 0;
    for (let k = 0; k < repeats; k++) spread += (k - (repeats - 1) / 2) ** 2;
    const bound = sd / Math.sqrt(OFFSETS.length * spread);
    let squares = 0;
    let stated = 0;
    const trials = 400;
    for (let t = 0; t < trials; t++) {
      const { places, u } = edges(repeats, () => sd * random.gaussian());
      const fit = fitLattice(u, places, 4);
      squares += ((fit?.periodMm ?? 0) - PERIOD) ** 2;
      stated += fit?.periodSdMm ?? 0;
    }
    // 400 trials leave the standard deviation known to 3.5 %; robust weights cost a few percent.
    expect(Math.sqrt(squares / trials) / bound).toBeGreaterThan(0.88);
    expect(Math.sqrt(squares / trials) / bound).toBeLessThan(1.15);
    expect(stated / trials / bound).toBeGreaterThan(0.85);
    expect(stated / trials / bound).toBeLessThan(1.1);
  });

  it('is hardly moved by one edge far off', () => {
    const { places, u } = edges(8, () => 0);
    u[17] += 2;
    expect(fitLattice(u, places, 4)?.periodMm).toBeCloseTo(PERIOD, 3);
  });

  it('says nothing of a period when no band is seen twice', () => {
    const { places, u } = edges(1, () => 0);
    expect(fitLattice(u, places, 4)).toBeNull();
  });
});
