import { describe, expect, it } from 'vitest';
import { DEFAULT_CHEVRON, previewSeams } from '../../../src/core/pipeline/preview-seam.js';
import { seamSheet } from '../../../src/core/render/seam-sheet.js';
import { tickingModel } from '../../support/ticking-measurement.js';

function sheetOf(angles: readonly number[], centres: readonly string[] | null) {
  const preview = previewSeams(tickingModel(), {
    ...DEFAULT_CHEVRON,
    angles: angles.map((deg) => [deg, deg] as const),
    centres,
  });
  if (!preview.ok) throw new Error(preview.refusal.found);
  const { rows, verdict } = preview.value;
  return seamSheet({
    title: 'Chevrons',
    rows: rows.map((row) => row.map(({ match, worst }) => ({ match, expected: worst, forced: false }))),
    verdict,
    unit: 'mm',
    notes: [],
  });
}

describe('seamSheet', () => {
  it.each([
    [[45], ['b1']],
    [[30, 60], ['b1']],
    [[30, 45, 60], ['b1']],
    [
      [30, 45, 60],
      ['b1', 'b2'],
    ],
    [[30, 45, 60], null],
  ] as const)('leaves no wide part of the page empty and fits it: %j, %j', (angles, centres) => {
    const { panes, widthPx, heightMm, widthMm } = sheetOf(angles, centres);
    expect(panes).toHaveLength(angles.length * (centres?.length ?? 4));
    // A4 is 210 x 297 mm; letter is 279.4 mm high.
    expect(widthMm).toBeLessThan(200);
    expect(heightMm).toBeLessThan(260);
    const right = Math.max(...panes.map(({ pane }) => pane.leftPx + 2 * pane.halfWidthPx));
    // Beside a lone seam stand the words: else pictures reach to the margin.
    if (panes.length > 1) expect(right / widthPx).toBeGreaterThan(0.9);
    else expect(right / widthPx).toBeLessThan(0.4);
    panes.forEach(({ pane: one }, k) => {
      for (const { pane: other } of panes.slice(0, k)) {
        const apartX = Math.abs(one.leftPx - other.leftPx) >= 2 * one.halfWidthPx;
        expect(apartX || Math.abs(one.topPx - other.topPx) >= one.heightPx).toBe(true);
      }
    });
  });
});
