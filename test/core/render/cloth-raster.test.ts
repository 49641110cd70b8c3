import { describe, expect, it } from 'vitest';
import { rgb8FromHex } from '../../../src/core/colour/srgb.js';
import type { BandModel } from '../../../src/core/model/band-model.js';
import { chevronPictures } from '../../../src/core/pipeline/chevron-pictures.js';
import { DEFAULT_CHEVRON, previewSeams } from '../../../src/core/pipeline/preview-seam.js';
import { type Raster, raster } from '../../../src/core/raster/raster.js';
import type { ClothTexture } from '../../../src/core/render/cloth-raster.js';
import { seededRandom } from '../../support/photo-painter/seeded-random.js';
import { instancesBetween, tickingModel } from '../../support/seam/models.js';
import { crossingsAtSeam } from '../../support/seam/read-crossings.js';

const PX_PER_MM = 4;
const base = tickingModel();
const PALETTE = base.colours.map((colour) => rgb8FromHex(colour.srgb));

/** Uneven cloth whose edges are known: each stands off its regular place by up to 0.6 mm. */
function unevenEdges(repeats: number, seed: number): number[] {
  const random = seededRandom(seed);
  const n = base.bands.length;
  return Array.from(
    { length: repeats * n + 1 },
    (_, k) => 40 + Math.floor(k / n) * 52 + base.bands[k % n].start_mm + random.between(-0.6, 0.6),
  );
}

/** Columns of even colour between the edges, each pixel the exact mixture in linear light. */
function paintCloth(edges: readonly number[], heightMm: number): ClothTexture {
  const leftUMm = edges[0] - 3;
  const width = Math.ceil((edges[edges.length - 1] + 3 - leftUMm) * PX_PER_MM);
  const height = heightMm * PX_PER_MM;
  const linear = (v: number): number =>
    v / 255 <= 0.04045 ? v / 255 / 12.92 : ((v / 255 + 0.055) / 1.055) ** 2.4;
  const encoded = (l: number): number =>
    Math.round(255 * (l <= 0.0031308 ? 12.92 * l : 1.055 * l ** (1 / 2.4) - 0.055));
  const row = new Uint8Array(4 * width);
  for (let x = 0; x < width; x++) {
    const [from, to] = [leftUMm + x / PX_PER_MM, leftUMm + (x + 1) / PX_PER_MM];
    const sum = [0, 0, 0];
    let seen = 0;
    for (let k = 0; k + 1 < edges.length; k++) {
      const share = Math.max(0, Math.min(to, edges[k + 1]) - Math.max(from, edges[k])) * PX_PER_MM;
      const band = base.bands[k % base.bands.length];
      const colour = PALETTE[base.colours.findIndex((c) => c.id === band.colour)];
      for (let c = 0; c < 3; c++) sum[c] += share * linear(colour[c]);
      seen += share;
    }
    for (let c = 0; c < 3; c++) row[4 * x + c] = seen > 0 ? encoded(sum[c] / seen) : 0;
    row[4 * x + 3] = seen > 0.5 ? 255 : 0;
  }
  const data = new Uint8Array(4 * width * height);
  for (let y = 0; y < height; y++) data.set(row, 4 * width * y);
  return { picture: raster(width, height, 4, data), pxPerMm: PX_PER_MM, leftUMm, topVMm: 200 };
}

function drawn(model: BandModel, cloth: ClothTexture, angle: number, seamMm: number, more = {}) {
  const outcome = previewSeams(model, {
    ...DEFAULT_CHEVRON,
    angles: [[angle, angle]],
    centres: ['b3'],
    seamMm,
    ...more,
  });
  if (!outcome.ok) throw new Error(outcome.refusal.found);
  const [job] = chevronPictures(outcome.value, cloth, 'mm').jobs;
  return { page: job.paint(), pxPerMm: job.pxPerMm, seam: outcome.value.rows[0][0] };
}

/** The seam lies where the stripes meet: the middle of the painted part of the page. */
function paneOf(page: Raster<Uint8Array>): { left: number; right: number; top: number } {
  const painted = (x: number, y: number): boolean => page.data[4 * (y * page.width + x)] !== 255;
  const middle = page.height >> 1;
  let left = 0;
  while (!painted(left, middle)) left++;
  let right = page.width;
  while (!painted(right - 1, middle)) right--;
  let top = 0;
  while (!painted((left + right) >> 1, top)) top++;
  return { left, right, top };
}

describe('halves painted with the cloth itself', () => {
  const edges = unevenEdges(6, 3);
  const bare = { ...base, bands: base.bands.map((b) => ({ ...b, width_sd_mm: null, edge_sd_mm: null })) };
  const model: BandModel = { ...bare, instances: instancesBetween(bare, edges) };
  const cloth = paintCloth(edges, 120);

  it.each([
    [30, 110],
    [45, 120],
    [60, 150],
    [45, 420],
  ])('meet as the stated places say: %i degrees, seam %i mm', (angle, seamMm) => {
    const { page, pxPerMm, seam } = drawn(model, cloth, angle, seamMm);
    const pane = paneOf(page);
    const seamX = (pane.left + pane.right) / 2;
    const cot = 1 / Math.tan((angle * Math.PI) / 180);
    const sides = {
      left: crossingsAtSeam(page, seamX, seamX - 3, seamX - 11, PALETTE, cot),
      right: crossingsAtSeam(page, seamX, seamX + 2, seamX + 10, PALETTE, -cot),
    };
    const best = seam.best;
    if (best === null) throw new Error('no places');
    expect(best.continued).toBe(seamMm > 300);
    let checked = 0;
    for (const c of best.crossings) {
      for (const [side, at] of [
        ['left', c.leftMm],
        ['right', c.rightMm],
      ] as const) {
        const y = pane.top + at * pxPerMm;
        if (y < pane.top + 30 || y > pane.top + seamMm * pxPerMm - 30) continue;
        checked++;
        const nearest = Math.min(...sides[side].map((one) => Math.abs(one.y - y)));
        expect(nearest, `${side} edge ${c.edge} at ${y.toFixed(1)}`).toBeLessThan(0.5);
      }
    }
    expect(checked).toBeGreaterThan(8);
  });

  it('cut from a stated pair of places miss by what the painted edges miss by', () => {
    const { seam } = drawn(model, cloth, 45, 120);
    const best = seam.best;
    if (best === null) throw new Error('no places');
    // The places named by their middles, looked up among the painted edges.
    const k = (uMm: number): number =>
      edges.findIndex((e, i) => Math.abs((e + edges[i + 1]) / 2 - uMm) < 1e-6);
    const [a, b] = [k(best.left.uMm), k(best.right.uMm)];
    for (const c of best.crossings) {
      const off = (edges[b + c.edge] - best.right.uMm - edges[a + c.edge] + best.left.uMm) * Math.SQRT2;
      expect(c.rightMm - c.leftMm).toBeCloseTo(off, 9);
    }
  });

  it('fills what was not photographed from elsewhere along the stripes', () => {
    const holed = { ...cloth, picture: { ...cloth.picture, data: cloth.picture.data.slice() } };
    const { width, height, data } = holed.picture;
    for (let y = 0; y < height / 3; y++) for (let x = 0; x < width; x++) data[4 * (y * width + x) + 3] = 0;
    const whole = drawn(model, cloth, 45, 120).page;
    const patched = drawn(model, holed, 45, 120).page;
    let different = 0;
    for (let i = 0; i < whole.data.length; i++)
      if (Math.abs(whole.data[i] - patched.data[i]) > 3) different++;
    expect(different / whole.data.length).toBeLessThan(0.001);
  });
});
