import { expect, it } from 'vitest';
import { rgb8FromHex } from '../../../src/core/colour/srgb.js';
import type { BandModel } from '../../../src/core/model/band-model.js';
import { chevronPictures } from '../../../src/core/pipeline/chevron-pictures.js';
import { DEFAULT_CHEVRON, previewSeams } from '../../../src/core/pipeline/preview-seam.js';
import { raster } from '../../../src/core/raster/raster.js';
import { clearCorner } from '../../../src/core/render/clear-corner.js';
import { printedSwatch, printedSwatchSvg } from '../../../src/core/render/printed-swatch.js';
import { instancesBetween, typedModel } from '../../support/seam/models.js';

const PX_PER_MM = 4;
const REPEAT = 40;
const ALONG = 30;

/** Indigo and ivory, balanced, with ochre discs: one on the indigo's middle, dropping from repeat to repeat. */
function printed(dropMm: number): { model: BandModel; colourAt: (u: number, v: number) => string } {
  const base = typedModel([
    ['#203060', 24],
    ['#f0e8d8', 16],
  ]);
  const model: BandModel = {
    ...base,
    repeat: { ...base.repeat, along_mm: ALONG, drop_fraction: dropMm / ALONG },
    colours: [...base.colours, { id: 'C', srgb: '#c08020', lab: [60, 0, 0], name: 'ochre', share: 0 }],
    motifs: [{ colour: 'C', across_mm: 12, along_mm: 7, extent_mm: [8, 8] }],
    symmetry: { ...base.symmetry, balanced: true, directional: false },
    instances: instancesBetween(
      base,
      Array.from({ length: 15 }, (_, k) => Math.floor(k / 2) * REPEAT + (k % 2) * 24),
    ),
  };
  const colourAt = (u: number, v: number): string => {
    const turns = Math.floor(u / REPEAT);
    const [cu, cv] = [u - turns * REPEAT, v - turns * dropMm];
    const dv = cv - 7 - Math.round((cv - 7) / ALONG) * ALONG;
    if (Math.hypot(cu - 12, dv) < 4) return '#c08020';
    return cu < 24 ? '#203060' : '#f0e8d8';
  };
  return { model, colourAt };
}

function painted(colourAt: (u: number, v: number) => string, width: number, height: number) {
  const data = new Uint8Array(4 * width * height).fill(255);
  for (let y = 0; y < height; y++) {
    for (let x = 0; x < width; x++) {
      const rgb = rgb8FromHex(colourAt((x + 0.5) / PX_PER_MM, (height - y - 0.5) / PX_PER_MM));
      for (let c = 0; c < 3; c++) data[4 * (y * width + x) + c] = rgb[c];
    }
  }
  const picture = raster(width, height, 4, data);
  return { picture, pxPerMm: PX_PER_MM, leftUMm: 0, topVMm: height / PX_PER_MM };
}

it.each([
  [0, 1],
  [15, 2],
  [10, 3],
])('a swatch of printed cloth is a whole cell at true size: drop %i mm, %i columns', (dropMm, columns) => {
  const { model, colourAt } = printed(dropMm);
  const [width, height] = [7 * REPEAT * PX_PER_MM, 150 * PX_PER_MM];
  const cloth = { ...painted(colourAt, width, height), seen: new Uint8Array(width * height).fill(1) };
  const swatch = printedSwatch(model, cloth);
  if (swatch === null) throw new Error('no swatch');
  const { picture, pxPerMm } = swatch;
  expect(picture.width / pxPerMm).toBeCloseTo(columns * REPEAT, 6);
  expect(picture.height / pxPerMm).toBeCloseTo(ALONG, 6);
  const [left, low] = clearCorner(model, REPEAT, ALONG, dropMm / ALONG);
  let different = 0;
  for (let y = 0; y < picture.height; y++) {
    for (let x = 0; x < picture.width; x++) {
      const rgb = rgb8FromHex(
        colourAt(left + (x + 0.5) / pxPerMm, low + (picture.height - y - 0.5) / pxPerMm),
      );
      if (rgb.some((value, c) => Math.abs(value - picture.data[3 * (y * picture.width + x) + c]) > 4))
        different++;
    }
  }
  // Rims of discs fall on other pixels from cell to cell.
  expect(different / (picture.width * picture.height)).toBeLessThan(0.02);
  const svg = printedSwatchSvg(swatch, 'data:image/png;base64,');
  expect(svg).toContain(`width="${columns * REPEAT}mm" height="${ALONG}mm"`);
  expect(svg).toContain('<image');
});

it.each([
  ['same-way', 0],
  ['same-way', 15],
  ['head-to-tail', 0],
  ['head-to-tail', 15],
] as const)('motifs meet in the picture: %s, drop %i mm', (lay, dropMm) => {
  const { model, colourAt } = printed(dropMm);
  const [width, height] = [7 * REPEAT * PX_PER_MM, 150 * PX_PER_MM];
  const cloth = painted(colourAt, width, height);
  const outcome = previewSeams(model, {
    ...DEFAULT_CHEVRON,
    angles: [[45, 45]],
    centres: ['b1'],
    seamMm: 150,
    lay,
  });
  if (!outcome.ok) throw new Error(outcome.refusal.found);
  const page = chevronPictures(outcome.value, cloth, 'mm').jobs[0].paint();
  // The page is white but for the two halves, which must be each other's mirror image.
  const row = page.height >> 1;
  const isPainted = (x: number): boolean => page.data[4 * (row * page.width + x)] !== 255;
  let left = 0;
  while (!isPainted(left)) left++;
  let right = page.width - 1;
  while (!isPainted(right)) right--;
  let different = 0;
  let count = 0;
  for (let y = 0; y < page.height; y++) {
    for (let x = left; x <= (left + right) >> 1; x++) {
      const [a, b] = [4 * (y * page.width + x), 4 * (y * page.width + left + right - x)];
      count++;
      if (Math.abs(page.data[a] - page.data[b]) > 60 || Math.abs(page.data[a + 2] - page.data[b + 2]) > 60)
        different++;
    }
  }
  expect(different / count).toBeLessThan(0.01);
});
