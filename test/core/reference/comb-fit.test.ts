import { describe, expect, it } from 'vitest';
import { combAt, combNumberAt, combPitchAt, fitComb } from '../../../src/core/reference/comb-fit.js';
import { seededRandom } from '../../support/photo-painter/seeded-random.js';

/**
 * A 300 mm rule seen from 500 mm at f = 3000 px, turned by `tiltDeg` about its middle: place of the mark at x mm.
 * Closed form of the pinhole camera (Hartley and Zisserman, Multiple View Geometry, ch. 6).
 */
const pinhole =
  (tiltDeg: number) =>
  (mm: number): number => {
    const t = (tiltDeg * Math.PI) / 180;
    return (3000 * mm * Math.cos(t)) / (500 + mm * Math.sin(t));
  };

const marks = (tiltDeg: number, stepMm: number): number[] =>
  Array.from({ length: Math.round(300 / stepMm) + 1 }, (_, i) => pinhole(tiltDeg)(i * stepMm - 150));

describe('fitComb', () => {
  it.each([
    // Gaps of the first and last centimetre at each tilt: published check table, ruler reading, exact model.
    [5, 62.9, 56.9],
    [10, 65.5, 53.6],
    [20, 69.5, 46.7],
    [30, 71.1, 39.6],
    [45, 67.1, 29.2],
  ])('follows a rule tilted by %d degrees exactly', (tilt, firstGap, lastGap) => {
    const xs = marks(tilt, 10);
    expect(xs[1] - xs[0]).toBeCloseTo(firstGap, 1);
    expect(xs[30] - xs[29]).toBeCloseTo(lastGap, 1);
    const fit = fitComb(xs);
    expect(fit?.marks).toHaveLength(31);
    for (const { k, x } of fit?.marks ?? []) {
      expect(Math.abs(combAt(fit!.comb, k) - x)).toBeLessThan(1e-8);
    }
  });

  it('numbers marks and gives their spacing as its own law says', () => {
    const fit = fitComb(marks(20, 1));
    for (const k of [-40, 0, 17.5, 200]) {
      expect(combNumberAt(fit!.comb, combAt(fit!.comb, k))).toBeCloseTo(k, 8);
      const difference = (combAt(fit!.comb, k + 1e-4) - combAt(fit!.comb, k - 1e-4)) / 2e-4;
      expect(combPitchAt(fit!.comb, k)).toBeCloseTo(difference, 5);
    }
  });

  it('keeps its scale with a tenth of the marks missing, false ones added and noise on the rest', () => {
    const random = seededRandom(11);
    for (let round = 0; round < 10; round++) {
      const tilt = random.between(-12, 12);
      const xs = marks(tilt, 1).filter(() => random.between(0, 1) > 0.1);
      const noisy = xs.map((x) => x + random.between(-0.3, 0.3));
      const strays = Array.from({ length: 20 }, () => random.between(-850, 850));
      const fit = fitComb([...noisy, ...strays]);
      expect(fit).not.toBeNull();
      const at0 = combNumberAt(fit!.comb, pinhole(tilt)(-100));
      const at1 = combNumberAt(fit!.comb, pinhole(tilt)(100));
      expect(Math.abs(at1 - at0 - 200)).toBeLessThan(0.1);
    }
  });

  it('stops at the ends of the rule although strays go on', () => {
    const random = seededRandom(3);
    const strays = Array.from({ length: 120 }, () => random.between(1000, 3000));
    const fit = fitComb([...marks(5, 1), ...strays]);
    expect(fit!.marks.length).toBeGreaterThanOrEqual(300);
    expect(fit!.marks.length).toBeLessThanOrEqual(303);
  });

  it('finds no comb in positions without one', () => {
    const random = seededRandom(7);
    for (let round = 0; round < 20; round++) {
      const fit = fitComb(Array.from({ length: 60 }, () => random.between(0, 2000)));
      expect(fit === null || fit.presence < 0.55).toBe(true);
    }
  });
});
