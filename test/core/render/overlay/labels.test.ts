import { describe, expect, it } from 'vitest';
import { bandLabels } from '../../../../src/core/render/overlay/labels.js';
import type { OverlayMarks } from '../../../../src/core/render/overlay-marks.js';
import { tickingMeasurement } from '../../../support/ticking-measurement.js';

const identity = (p: readonly [number, number]): readonly [number, number] => p;

/** Upright bands of one width, side by side. */
const bandsOf = (widthPx: number): OverlayMarks => ({
  ...tickingMeasurement().marks,
  bandLabels: Array.from({ length: 8 }, (_, k) => {
    const from = 100 + k * widthPx;
    return {
      band: `b${k + 1}`,
      at: [from + widthPx / 2, 500] as const,
      edges: [
        [from, 500],
        [from + widthPx, 500],
      ] as const,
    };
  }),
});

/** Across the stripes, plates as they lie: they are drawn along the stripe and turned, so their height is what covers the band. */
const platesOf = (svg: string) =>
  [
    ...svg.matchAll(
      /translate\((\S+) (\S+)\) rotate\((\S+)\)"><rect x="\S+" y="\S+" width="\S+" height="(\S+)"/g,
    ),
  ].map((found) => found.slice(1).map(Number));

describe('bandLabels', () => {
  it.each([40, 18, 14])('covers no edge of bands %d px wide', (width) => {
    const plates = platesOf(bandLabels(bandsOf(width), identity, [1000, 1000], 1, []));
    expect(plates).toHaveLength(8);
    plates.forEach(([x, , deg, wide], k) => {
      expect(Math.abs(deg)).toBeCloseTo(90, 6);
      expect(x).toBeCloseTo(100 + (k + 0.5) * width, 3);
      expect(wide).toBeLessThan(0.85 * width);
    });
  });

  it('leaves names out where nobody could read them', () => {
    expect(bandLabels(bandsOf(8), identity, [1000, 1000], 1, [])).toBe('');
  });

  it('steps aside along the stripe for what lies there already', () => {
    const taken = { x: 0, y: 480, width: 1000, height: 40 };
    const plates = platesOf(bandLabels(bandsOf(40), identity, [1000, 1000], 1, [taken]));
    expect(plates).toHaveLength(8);
    for (const [, y] of plates) expect(Math.abs(y - 500)).toBeGreaterThan(20);
  });
});
