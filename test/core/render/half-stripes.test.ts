import sharp from 'sharp';
import { describe, expect, it } from 'vitest';
import { DEFAULT_CHEVRON, previewSeams } from '../../../src/core/pipeline/preview-seam.js';
import { stripesSvg } from '../../../src/core/render/half-stripes.js';
import { blankPage, placeHalves } from '../../../src/core/render/page.js';
import { stripePainter } from '../../../src/core/render/stripe-raster.js';
import { tickingModel } from '../../support/seam/models.js';

describe('vector halves', () => {
  it.each([
    [15, 'down', 'head-to-tail'],
    [45, 'up', 'head-to-tail'],
    [72, 'down', 'run-on'],
    [90, 'down', 'wrong-side'],
  ] as const)(
    'show the same picture as the painted ones: %i degrees, point %s, %s',
    async (angle, point, lay) => {
      const outcome = previewSeams(tickingModel(), {
        ...DEFAULT_CHEVRON,
        angles: [[angle, angle]],
        centres: ['b3'],
        point,
        lay,
      });
      if (!outcome.ok) throw new Error(outcome.refusal.found);
      const { match } = outcome.value.rows[0][0];
      const [halfWidthPx, heightPx, pxPerMm] = [150, 800, 2];
      const page = blankPage(2 * halfWidthPx, heightPx);
      const paint = stripePainter(match.pattern);
      const pane = { leftPx: 0, topPx: 0, halfWidthPx, heightPx, pxPerMm };
      placeHalves(
        page,
        pane,
        (w) => paint(match.left, w),
        (w) => paint(match.right, w),
      );
      const frame = { seamX: 75, topY: 0, halfWidthMm: 75, seamMm: 400, scale: 1, grain: 4 };
      const svg = `<svg xmlns="http://www.w3.org/2000/svg" width="300" height="800" viewBox="0 0 150 400">${stripesSvg(match, frame)}</svg>`;
      const drawn = await sharp(Buffer.from(svg)).ensureAlpha().raw().toBuffer();
      // They differ in edge pixels only, where the renderer mixes encoded values and the painter light.
      let far = 0;
      for (let i = 0; i < drawn.length; i++) if (Math.abs(drawn[i] - page.data[i]) > 60) far++;
      expect(far / drawn.length).toBeLessThan(0.002);
    },
  );
});
