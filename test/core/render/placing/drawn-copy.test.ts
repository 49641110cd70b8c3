import sharp from 'sharp';
import { expect, test } from 'vitest';
import type { BandModel } from '../../../../src/core/model/band-model.js';
import { drawnAnswers } from '../../../../src/core/pipeline/place-pictures.js';
import { placementOf } from '../../../../src/core/place/answer/placement-of.js';
import { placePieces } from '../../../../src/core/place/place-pieces.js';
import { drawCopy, type Matrix } from '../../../../src/core/render/placing/drawn-copy.js';
import { panel, piecesOf, planOf } from '../../../support/rectangle-pieces.js';
import { typedModel } from '../../../support/seam/models.js';

const striped = typedModel([
  ['#223366', 14],
  ['#eeeedd', 9],
  ['#cc8822', 6],
]);
const printed: BandModel = {
  ...striped,
  repeat: { ...striped.repeat, along_mm: 40, along_sd_mm: 0.1, drop_fraction: 0.5 },
  motifs: [{ colour: 'C', along_mm: 8, across_mm: 18, extent_mm: [10, 12] }],
};
const REPEAT_MM = 29;
const PX_PER_MM = 5;

/** Colour of the cloth at (u, v), by the model's own numbers; null within 0.3 mm of an edge, where a pixel is a mixture. */
function colourAt(model: BandModel, u: number, v: number): string | null {
  for (const { across_mm, along_mm, extent_mm } of model.motifs)
    for (let k = -60; k <= 60; k++)
      for (const j of [-1, 0, 1]) {
        const row = Math.round((v - along_mm - 20 * k) / 40) + j;
        const off = Math.hypot(
          (u - across_mm - REPEAT_MM * k) / (extent_mm[0] / 2),
          (v - along_mm - 20 * k - 40 * row) / (extent_mm[1] / 2),
        );
        if (Math.abs(off - 1) < 0.08) return null;
        if (off < 1) return model.colours.find(({ id }) => id === 'C')?.srgb ?? null;
      }
  for (const { start_mm, width_mm, colour } of model.bands) {
    const from = (((u - start_mm) % REPEAT_MM) + REPEAT_MM) % REPEAT_MM;
    if (from > 0.3 && from < width_mm - 0.3)
      return model.colours.find(({ id }) => id === colour)?.srgb ?? null;
  }
  return null;
}

// The picture is read pixel by pixel; what it should show is worked out from place.json's transform and the model alone.
test.each([
  ['stripes', striped],
  ['a print', printed],
])('a copy drawn on %s shows at every place what its transform says', async (_, model) => {
  const pieces = piecesOf(
    panel('one', 60, 90, { stripes: { to: 'grain', angle_deg: 33 } }),
    panel('two', 60, 90, {
      stripes: { to: 'grain', angle_deg: 33 },
      copies: [{ id: 'two', mirrored: true }],
    }),
  );
  const plan = planOf({
    joins: [{ id: 'side', left: { copy: 'one', seam: 'right' }, right: { copy: 'two', seam: 'right' } }],
    wishes: [
      { id: 'm', kind: 'meets', join: 'side' },
      ...(model.motifs.length > 0
        ? [{ id: 'c', kind: 'clear', copy: 'one', seam: 'right', margin_mm: 3 }]
        : []),
    ],
  });
  const placed = placePieces(plan, pieces, model);
  if (!placed.ok) throw new Error(placed.refusal.found);
  const placement = placementOf(placed.value, plan.wishes, { file: 'p', sha256: '0'.repeat(64) }, []);
  const [answer] = drawnAnswers(placed.value, placement, plan.wishes, model, 'mm');
  for (const [k, { copy }] of answer.garment.entries()) {
    const at: Matrix = [PX_PER_MM, 0, 0, -PX_PER_MM, 350, 350];
    const body = drawCopy(copy, at, 'c', {
      tiles: null,
      points: 'none',
      showsUnlike: false,
      showsName: false,
      showsGrain: false,
    });
    const { data } = await sharp(
      Buffer.from(`<svg xmlns="http://www.w3.org/2000/svg" width="700" height="700">${body}</svg>`),
    )
      .removeAlpha()
      .raw()
      .toBuffer({ resolveWithObject: true });
    const { turn, middle } = placed.value.shapes[k];
    const [a, b, c, d, e, f] = placement.answers[0].copies[k].transform;
    let looked = 0;
    for (let x = 2; x < 60; x += 3.7)
      for (let y = 2; y < 90; y += 4.3) {
        const expected = colourAt(model, a * x + c * y + e, b * x + d * y + f);
        if (expected === null) continue;
        const p = turn[0] * x - turn[1] * y - middle[0];
        const q = turn[1] * x + turn[0] * y - middle[1];
        const pixel = 3 * (700 * Math.floor(350 - PX_PER_MM * q) + Math.floor(350 + PX_PER_MM * p));
        const shown = `#${[...data.subarray(pixel, pixel + 3)].map((one) => one.toString(16).padStart(2, '0')).join('')}`;
        expect(shown, `${copy.id} at ${x}, ${y}`).toBe(expected);
        looked++;
      }
    expect(looked).toBeGreaterThan(150);
  }
});
