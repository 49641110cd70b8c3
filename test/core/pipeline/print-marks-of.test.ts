import { describe, expect, it } from 'vitest';
import { printMarksOf } from '../../../src/core/pipeline/print-marks-of.js';
import { instancesBetween, typedModel } from '../../support/seam/models.js';

const bare = typedModel([
  ['#ebe2cb', 40],
  ['#2a3a63', 20],
]);
/** One shell of 8 mm on each ivory band every 40 mm. */
const printed = {
  ...bare,
  repeat: { ...bare.repeat, along_mm: 40, drop_fraction: 0, motif_across_mm: 60 },
  motifs: [{ colour: 'B', along_mm: 5, across_mm: 20, extent_mm: [8, 8] as const }],
  instances: instancesBetween(bare, [0, 40, 60, 100, 120]),
};

const marks = (isHidden: (u: number, v: number) => boolean) =>
  printMarksOf(
    printed,
    (u, v) => [u, v],
    () => [0, 200],
    isHidden,
  );

describe('clean places on the overlay', () => {
  const all = marks(() => false).cleanPlaces;

  it('are drawn on every whole band', () => {
    expect(new Set(all.map(([[u]]) => (u < 50 ? 0 : 60)))).toEqual(new Set([0, 60]));
  });

  it('are left out where the ruler hides the cloth', () => {
    const ruler = (u: number, v: number): boolean => u < 50 && v > 80 && v < 130;
    const { cleanPlaces } = marks(ruler);
    expect(cleanPlaces.length).toBeLessThan(all.length);
    expect(cleanPlaces.length).toBeGreaterThan(0);
    for (const line of cleanPlaces) for (const [u, v] of line) expect(ruler(u, v)).toBe(false);
    // What it does not touch stays.
    expect(cleanPlaces).toEqual(expect.arrayContaining(all.filter(([[u]]) => u > 50)));
  });

  it('are none where all is hidden', () => {
    expect(marks(() => true)).toMatchObject({ cleanPlaces: [], cleanAngleDeg: null });
  });
});
