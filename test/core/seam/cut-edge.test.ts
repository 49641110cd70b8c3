import { describe, expect, it } from 'vitest';
import { clothFromGarment } from '../../../src/core/model/half-on-cloth.js';
import { DEFAULT_CHEVRON, previewSeams } from '../../../src/core/pipeline/preview-seam.js';
import type { SeamPreview } from '../../../src/core/seam/chevron-preview.js';
import { matchedAtCutEdge } from '../../../src/core/seam/cut-edge.js';
import { tickingModel } from '../../support/seam/models.js';

const preview = (angles: [number, number], more = {}): SeamPreview => {
  const outcome = previewSeams(tickingModel(), {
    ...DEFAULT_CHEVRON,
    angles: [angles],
    centres: ['b3'],
    ...more,
  });
  if (!outcome.ok) throw new Error(outcome.refusal.found);
  return outcome.value.rows[0][0];
};
const cot = (deg: number): number => 1 / Math.tan((deg * Math.PI) / 180);

describe('matching at the cutting line', () => {
  it.each(['down', 'up'] as const)(
    'lays the chosen bands on each other there, 15 mm beyond the seam, point %s',
    (point) => {
      const { match } = preview([40, 40], { point });
      const wrong = matchedAtCutEdge(match, 15);
      const [left] = clothFromGarment(wrong.left, 15, 200);
      const [right] = clothFromGarment(wrong.right, -15, 200);
      const [wanted] = clothFromGarment(match.left, 0, 200);
      expect(left).toBeCloseTo(wanted, 9);
      expect(right).toBeCloseTo(wanted, 9);
    },
  );

  it.each([15, 30, 45, 60, 75])(
    'keeps a chevron of %i degrees matched but moves its points by a cot',
    (deg) => {
      const { match, cutEdge } = preview([deg, deg]);
      const wrong = matchedAtCutEdge(match, 15);
      expect(wrong.unmatched).toEqual([]);
      expect(match.request.atMm - wrong.request.atMm).toBeCloseTo(15 * cot(deg), 9);
      expect(cutEdge.pointsMoveMm).toBeCloseTo(15 * cot(deg), 9);
    },
  );

  it('takes stripes that run on apart by 2 a cot, and unequal sides by the difference', () => {
    const runOn = preview([45, 45], { lay: 'run-on' });
    const apart = matchedAtCutEdge(runOn.match, 15).crossings.map((c) => c.rightMm - c.leftMm);
    for (const off of apart) expect(Math.abs(off)).toBeCloseTo(30, 9);
    expect(runOn.cutEdge.runOnMismatchMm).toBeCloseTo(30, 9);

    const unequal = preview([45, 38]);
    const wrong = matchedAtCutEdge(unequal.match, 15);
    const middle = (side: 'left' | 'right'): number => {
      const edges = wrong.crossings
        .filter((c) => c.edge === 0 || c.edge === 1)
        .map((c) => (side === 'left' ? c.leftMm : c.rightMm));
      return (edges[0] + edges[1]) / 2;
    };
    expect(Math.abs(middle('right') - middle('left'))).toBeCloseTo(15 * (cot(38) - cot(45)), 9);
    expect(unequal.cutEdge.mirroredMismatchMm).toBeCloseTo(15 * (cot(38) - cot(45)), 9);
  });
});
