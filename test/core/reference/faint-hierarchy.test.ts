import { describe, expect, it } from 'vitest';
import { faintHierarchy, type MarkDepths } from '../../../src/core/reference/faint-hierarchy.js';
import { seededRandom } from '../../support/photo-painter/seeded-random.js';

const rankOf = (k: number, period: number): number => {
  let rank = 0;
  for (let step = 2; step <= period && k % step === 0; step *= 2) rank++;
  return rank;
};

/** Marks of an inch scale, each as dark as `darkAt` says (levels) at a depth in px, under noise of 4 levels. */
function marksOf(count: number, depths: number, darkAt: (k: number, depth: number) => number): MarkDepths {
  const random = seededRandom(8);
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
});
