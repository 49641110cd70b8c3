import { describe, expect, it } from 'vitest';
import { faintHierarchy, type MarkDepths } from '../../../src/core/reference/faint-hierarchy.js';
import { seededRandom } from '../../support/photo-painter/seeded-random.js';

const rankOf = (k: number, period: number): number => {
  let rank = 0;
  for (let step = 2; step <= period && k % step === 0; step *= 2) rank++;
  return rank;
};

/** Marks of an inch scale, each as dark as `darkAt` says (levels) at a depth in px, under noise of 4 levels. */
function marksOf(
  count: number,
  depths: number,
  darkAt: (k: number, depth: number) => number,
  seed = 8,
): MarkDepths {
  const random = seededRandom(seed);
  const values = new Float32Array(count * depths);
  for (let k = 0; k < count; k++) {
    for (let d = 0; d < depths; d++) values[k * depths + d] = darkAt(k, d) + 4 * random.gaussian();
  }
  return { first: 0, count, depths, values };
}

describe('faintHierarchy', () => {
  /** px from mark to mark; each rank reaches so many spacings from the feet, 3 px in. */
  const dark = (lengths: readonly number[], pitch: number, period: number) => (k: number, depth: number) =>
    depth >= 3 && depth < 3 + pitch * lengths[rankOf(k, period)] ? 8 : 0;

  it('tells an inch of eighths from two inches of sixteenths, though something faint follows every other inch', () => {
    const pitch = 17;
    const eighths = dark([1.5, 2.1, 2.8, 5.2], pitch, 8);
    const marks = marksOf(50, 140, (k, d) => eighths(k, d) + (k % 16 === 0 && d > 92 && d < 125 ? 1 : 0));
    expect(faintHierarchy(marks, pitch, 'auto')?.scale).toMatchObject({ unit: 'inch', pitchMm: 25.4 / 8 });
  });

  it('takes eighths of a finer rule, longer than any rule’s finest marks, for no sixteenths', () => {
    const pitch = 17;
    const eighths = dark([2.5, 3, 3.6, 6.5], pitch, 8);
    const marks = marksOf(50, 140, (k, d) => eighths(k, d) + (k % 16 === 0 && d > 113 && d < 130 ? 1 : 0));
    // Below the lead from which on a scale is believed.
    expect(faintHierarchy(marks, pitch, 'auto')?.lead ?? 0).toBeLessThan(20);
  });

  it('keeps sixteenths whose inches are longer than their halves', () => {
    const pitch = 9;
    const marks = marksOf(100, 90, dark([2, 3.2, 4.4, 5.6, 7], pitch, 16));
    expect(faintHierarchy(marks, pitch, 'auto')?.scale).toMatchObject({ unit: 'inch', pitchMm: 25.4 / 16 });
  });

  describe('millimetres whose short marks hardly show', () => {
    /** Beyond the short ones, where nothing is near them, long marks are clear. */
    const long = (k: number, depth: number): boolean =>
      depth >= 12 && ((k % 10 === 0 && depth < 42) || (k % 5 === 0 && depth < 27));
    /** Marks as short as millimetres for which `shows` is true are there, a good quarter as dark as the noise. */
    const marks = (seed: number, shows: (k: number) => boolean) =>
      marksOf(240, 60, (k, d) => (long(k, d - 3) ? 8 : shows(k) && d >= 3 && d < 15 ? 1.15 : 0), seed);
    const readOf = (only: 'auto' | 'mm', shows: (k: number) => boolean): number =>
      Array.from({ length: 12 }, (_, i) => faintHierarchy(marks(i + 1, shows), 5, only)).filter(
        (found) => found !== null && found.lead > 20 && found.scale.pitchMm === 1,
      ).length;

    it('are read, though some seem lighter by chance', () => {
      // A place as light as a bare one is three standard deviations off: one in some forty readings.
      expect(readOf('auto', () => true)).toBeGreaterThanOrEqual(11);
    });

    it('are no millimetres where every other one is missing', () => {
      expect(readOf('mm', (k) => k % 2 === 0)).toBe(0);
    });
  });
});
