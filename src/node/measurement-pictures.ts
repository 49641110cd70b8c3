import sharp from 'sharp';
import {
  type BandModel,
  type ClothCloseUp,
  type ClothPicture,
  framedPicture,
  type LengthUnit,
  layOver,
  numberedRepeats,
  type OverlayMarks,
  overlayDrawing,
  type Photo,
  pageDensity,
  paintSwatch,
  printedSwatch,
  printedSwatchSvg,
  type Swatch,
  swatchSvg,
} from '../index.js';
import type { ShrunkPhoto } from './shrunk-photo.js';

const MM_PER_INCH = 25.4;
/** Long side of the copy inside report.html, px. */
const REPORT_PX = 1400;
/** zlib's higher levels save a fifth of the size of a photo for many times the work. */
const COMPRESSION = 1;

export interface OverlayPictures {
  readonly png: Buffer;
  readonly report: { readonly uri: string; readonly widthPx: number; readonly heightPx: number };
}

/** The marks and what is written round the photo, painted with alpha. */
interface OverlayLines {
  readonly width: number;
  readonly height: number;
  /** Where the photo lies, from the left and from the top. */
  readonly margin: number;
  readonly rgba: Uint8Array;
}

/** Paints what goes over the shrunk photo; sharp's threads do it. */
export async function overlayLines(
  photo: Photo,
  { width, height }: ShrunkPhoto,
  model: BandModel,
  marks: OverlayMarks,
  unit: LengthUnit,
): Promise<OverlayLines> {
  const drawing = overlayDrawing(model, marks, unit, width, height, width / photo.widthPx);
  const rgba = await sharp(Buffer.from(drawing.svg)).ensureAlpha().raw().toBuffer();
  return { width: drawing.widthPx, height: drawing.heightPx, margin: drawing.marginPx, rgba };
}

/** The photo, shrunk, with the marks laid over it at once and encoded on sharp's threads. */
export async function overlayPictures(
  ground: ShrunkPhoto,
  { width, height, margin, rgba }: OverlayLines,
): Promise<OverlayPictures> {
  const shown = new Uint8Array(3 * width * height).fill(255);
  const row = 3 * ground.width;
  for (let y = 0; y < ground.height; y++) {
    shown.set(ground.data.subarray(y * row, (y + 1) * row), 3 * ((y + margin) * width + margin));
  }
  for (let y = 0; y < height; y++) layOver(shown, rgba, y * width, width);
  const raw = { width, height, channels: 3 as const };
  const again = () => sharp(shown, { raw });
  const small = REPORT_PX / Math.max(width, height);
  const [png, jpeg] = await Promise.all([
    again()
      .withDensity(pageDensity(width, height) * MM_PER_INCH)
      .png({ compressionLevel: COMPRESSION })
      .toBuffer(),
    again()
      .resize(Math.round(width * Math.min(1, small)))
      .jpeg({ quality: 82 })
      .toBuffer({ resolveWithObject: true }),
  ]);
  const uri = `data:image/jpeg;base64,${jpeg.data.toString('base64')}`;
  return { png, report: { uri, widthPx: jpeg.info.width, heightPx: jpeg.info.height } };
}

/** Alpha of what was photographed but lay covered, by the ruler say: looks solid, yet tells it from cloth. */
const COVERED_ALPHA = 254;

/** RGBA of a row of the cloth, whose marks begin at `from`. */
function markCovered(row: Uint8Array, seen: Uint8Array, from: number): void {
  for (let i = from, alpha = 3; alpha < row.length; i++, alpha += 4) {
    if (seen[i] === 0 && row[alpha] === 255) row[alpha] = COVERED_ALPHA;
  }
}

/** cloth.png: the cloth in a frame of numbers and lengths; its density is the cloth's true size. */
export interface FramedCloth {
  readonly framePx: number;
  readonly widthMm: number;
  readonly heightMm: number;
  readonly png: Promise<Buffer>;
}

/** Frames and encodes the cloth. Cloth keeps its pixels; what is drawn looks solid, too, yet has the alpha of what is no cloth. */
export function framedCloth(cloth: ClothPicture, model: BandModel, unit: LengthUnit): FramedCloth {
  const { pxPerMm, leftUMm, topVMm } = cloth;
  const { width, height } = cloth.picture;
  const extent = {
    leftUMm,
    rightUMm: leftUMm + width / pxPerMm,
    topVMm,
    lowVMm: topVMm - height / pxPerMm,
  };
  const { origin } = model;
  const landmark = origin ? ([origin.u_mm, origin.v_mm] as const) : null;
  const { svg, framePx } = framedPicture(extent, pxPerMm, numberedRepeats(model), landmark, unit);
  return {
    framePx,
    widthMm: (width + 2 * framePx) / pxPerMm,
    heightMm: (height + 2 * framePx) / pxPerMm,
    png: encodeFramed(cloth, svg, framePx),
  };
}

async function encodeFramed(
  { picture, pxPerMm, seen }: ClothPicture,
  svg: string,
  framePx: number,
): Promise<Buffer> {
  const width = picture.width + 2 * framePx;
  const height = picture.height + 2 * framePx;
  const drawn = await sharp(Buffer.from(svg))
    .resize(width, height, { fit: 'fill' })
    .ensureAlpha()
    .raw()
    .toBuffer();
  const page = new Uint8Array(4 * width * height);
  const words = new Uint32Array(page.buffer);
  for (let y = 0; y < height; y++) {
    const inside = y >= framePx && y < framePx + picture.height;
    const start = width * y;
    whiteFrame(words.subarray(start, start + width), inside ? framePx : width);
    if (inside) {
      const from = (y - framePx) * picture.width;
      const at = start + framePx;
      page.set(picture.data.subarray(4 * from, 4 * (from + picture.width)), 4 * at);
      markCovered(page.subarray(4 * at, 4 * (at + picture.width)), seen, from);
    }
  }
  drawOver(page, drawn);
  return sharp(page, { raw: { width, height, channels: 4 } })
    .withDensity(pxPerMm * MM_PER_INCH)
    .png({ compressionLevel: COMPRESSION })
    .toBuffer();
}

/** A white pixel of what is no cloth, as it lies in memory. */
const [WHITE] = new Uint32Array(new Uint8Array([255, 255, 255, COVERED_ALPHA]).buffer);

/** Both ends of a row, `count` px each; one entry a pixel. */
function whiteFrame(row: Uint32Array, count: number): void {
  row.fill(WHITE, 0, count);
  row.fill(WHITE, row.length - count);
}

/** Both RGBA, of one size. */
function drawOver(page: Uint8Array, drawn: Uint8Array): void {
  for (let i = 0; i < page.length; i += 4) {
    const alpha = drawn[i + 3];
    if (alpha === 0) continue;
    // On nothing at all a mark is drawn as on white.
    const rest = page[i + 3] === 0 ? 255 : -1;
    for (let c = i; c < i + 3; c++) {
      const ground = rest < 0 ? page[c] : rest;
      page[c] = (drawn[c] * alpha + ground * (255 - alpha) + 127) / 255;
    }
    page[i + 3] = COVERED_ALPHA;
  }
}

export interface SwatchFiles {
  readonly png: Buffer;
  readonly svg: string;
  readonly widthMm: number;
  readonly heightMm: number;
}

/** swatch.png, likewise, and swatch.svg: of a printed cloth both show a cell of the print, from the cloth itself. */
export async function swatchFiles(
  swatch: Swatch,
  model: BandModel,
  cloth: ClothPicture,
  closeUp: ClothCloseUp,
): Promise<SwatchFiles> {
  const printed = printedSwatch(model, cloth, closeUp);
  const { picture, pxPerMm } = printed ?? paintSwatch(swatch);
  const png = await sharp(picture.data, {
    raw: { width: picture.width, height: picture.height, channels: 3 },
  })
    .withDensity(pxPerMm * MM_PER_INCH)
    .png({ compressionLevel: 9 })
    .toBuffer();
  const svg = printed
    ? printedSwatchSvg(printed, `data:image/png;base64,${png.toString('base64')}`)
    : swatchSvg(swatch);
  return { png, svg, widthMm: picture.width / pxPerMm, heightMm: picture.height / pxPerMm };
}
