import { checkAll, numberWithin, record, text, wholeNumber } from '../base/expectation.js';
import { byteTable, LINEAR_STEPS } from '../colour/byte-table.js';
import { linearFromByte } from '../colour/srgb.js';
import type { BandModel } from '../model/band-model.js';
import { checkBandModel } from '../model/check-band-model.js';
import { checkLength } from '../raster/check-photo.js';
import { type Raster, raster } from '../raster/raster.js';
import { checkTexture } from './check-texture.js';
import { element, svgInMm } from './svg.js';

/** The rectified cloth: u to the right, v upwards; RGBA. */
interface SeenCloth {
  readonly picture: Raster<Uint8Array>;
  readonly pxPerMm: number;
  readonly leftUMm: number;
  readonly topVMm: number;
  /** 1 where bare cloth was photographed. */
  readonly seen: Uint8Array;
}

/** A drop is taken for the nearest part of so many or fewer. */
const MOST_COLUMNS = 8;
/** Of so many cells each pixel is the mean. */
const MOST_CELLS = 12;
const MOST_PX = 1_500_000;

/**
 * One cell of a printed cloth, at true size, that joins its copies without a seam both ways: as many columns wide as it takes
 * for the drop to come round. The mean, in linear light, of the cells in view; it begins where the model's first band does.
 * 3 channels, encoded sRGB. Null without a print whose lattice is known, or where a part of it was nowhere seen.
 */
export function printedSwatch(
  model: BandModel,
  cloth: SeenCloth,
): { picture: Raster<Uint8Array>; pxPerMm: number } | null {
  checkBandModel(model);
  checkTexture(cloth, 'cloth');
  checkLength(cloth.seen, 'cloth.seen', cloth.picture.width * cloth.picture.height);
  const { across_mm, along_mm, drop_fraction, motif_across_mm } = model.repeat;
  if (across_mm === null || along_mm === null || drop_fraction === null) return null;
  const cellMm = motif_across_mm ?? across_mm;
  const columns = columnsOf(drop_fraction);
  // Rounded to the columns, the drop comes round exactly.
  const drop = Math.round(drop_fraction * columns) / columns;
  const widthMm = columns * cellMm;
  const wanted = Math.min(cloth.pxPerMm, Math.sqrt(MOST_PX / (widthMm * along_mm)));
  const width = Math.max(1, Math.round(widthMm * wanted));
  const pxPerMm = width / widthMm;
  const height = Math.max(1, Math.round(along_mm * pxPerMm));
  const data = new Uint8Array(3 * width * height);
  const steps = stepsInView(cloth, cellMm, along_mm, drop_fraction);
  const bytes = byteTable();
  for (let x = 0; x < width; x++) {
    const u = (x + 0.5) / pxPerMm;
    const column = Math.floor(u / cellMm);
    // The true drop of this column less the rounded one.
    const shift = column * (drop_fraction - drop) * along_mm;
    for (let y = 0; y < height; y++) {
      const v = ((height - y - 0.5) / height) * along_mm + shift;
      if (!fillMean(cloth, steps, u, v, bytes, data, 3 * (y * width + x))) return null;
    }
  }
  return { picture: raster(width, height, 3, data), pxPerMm };
}

/** That cell as SVG, user unit 1 mm: the picture itself (a data URI), for a print's drawings are not known as outlines. */
export function printedSwatchSvg(
  swatch: { readonly picture: Raster<Uint8Array>; readonly pxPerMm: number },
  href: string,
): string {
  checkAll({ swatch: [swatch, PRINTED], href: [href, text] });
  const { picture, pxPerMm } = swatch;
  const size = { width: picture.width / pxPerMm, height: picture.height / pxPerMm };
  const image = element('image', { ...size, preserveAspectRatio: 'none', href });
  return svgInMm(size.width, size.height, 'One cell of the printed cloth, true size', image);
}

const side = wholeNumber({ least: 1 });
const PRINTED = record(
  { picture: record({ width: side, height: side }), pxPerMm: numberWithin({ above: 0 }) },
  'what printedSwatch gives',
);

function columnsOf(drop: number): number {
  let best = 1;
  for (let n = 1; n <= MOST_COLUMNS; n++) {
    const off = (k: number): number => Math.abs(drop - Math.round(drop * k) / k);
    if (off(n) < off(best) - 0.01) best = n;
  }
  return best;
}

type Step = readonly [number, number];

/** Lattice steps from the cell at the origin to those in view, the nearest to its middle first. */
function stepsInView(
  { picture, pxPerMm, leftUMm, topVMm }: SeenCloth,
  cellMm: number,
  alongMm: number,
  drop: number,
): Step[] {
  const rightUMm = leftUMm + picture.width / pxPerMm;
  const lowVMm = topVMm - picture.height / pxPerMm;
  const middle = [(leftUMm + rightUMm) / 2, (topVMm + lowVMm) / 2];
  const steps: Step[] = [];
  const most = Math.ceil((rightUMm - leftUMm) / cellMm) + MOST_COLUMNS;
  for (let i = -most; i <= most; i++) {
    const rows = Math.ceil((topVMm - lowVMm) / alongMm) + Math.ceil(Math.abs(i * drop)) + 1;
    for (let j = -rows; j <= rows; j++) steps.push([i * cellMm, (j + i * drop) * alongMm]);
  }
  const away = ([u, v]: Step): number => Math.hypot(u + cellMm / 2 - middle[0], v + alongMm / 2 - middle[1]);
  return steps.sort((p, q) => away(p) - away(q));
}

function fillMean(
  { picture, pxPerMm, leftUMm, topVMm, seen }: SeenCloth,
  steps: readonly Step[],
  u: number,
  v: number,
  bytes: Uint8Array,
  out: Uint8Array,
  at: number,
): boolean {
  const { width, height, data } = picture;
  let r = 0;
  let g = 0;
  let b = 0;
  let count = 0;
  for (const [du, dv] of steps) {
    const x = Math.floor((u + du - leftUMm) * pxPerMm);
    const y = Math.floor((topVMm - v - dv) * pxPerMm);
    if (x < 0 || y < 0 || x >= width || y >= height || !seen[y * width + x]) continue;
    const i = 4 * (y * width + x);
    r += linearFromByte[data[i]];
    g += linearFromByte[data[i + 1]];
    b += linearFromByte[data[i + 2]];
    if (++count === MOST_CELLS) break;
  }
  if (count === 0) return false;
  out[at] = bytes[((r / count) * LINEAR_STEPS + 0.5) | 0];
  out[at + 1] = bytes[((g / count) * LINEAR_STEPS + 0.5) | 0];
  out[at + 2] = bytes[((b / count) * LINEAR_STEPS + 0.5) | 0];
  return true;
}
