import sharp from 'sharp';
import {
  type BandModel,
  type ClothPicture,
  type LengthUnit,
  layOver,
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

function markCovered(data: Uint8Array, seen: Uint8Array, from: number, count: number): void {
  for (let i = from; i < from + count; i++) {
    if (seen[i] === 0 && data[4 * i + 3] === 255) data[4 * i + 3] = COVERED_ALPHA;
  }
}

/** cloth.png: its density is the cloth's true size. */
export function clothPng({ picture, pxPerMm, seen }: ClothPicture): Promise<Buffer> {
  const data = picture.data.slice();
  for (let y = 0; y < picture.height; y++) markCovered(data, seen, y * picture.width, picture.width);
  return sharp(data, { raw: { width: picture.width, height: picture.height, channels: 4 } })
    .withDensity(pxPerMm * MM_PER_INCH)
    .png({ compressionLevel: COMPRESSION })
    .toBuffer();
}

export interface SwatchFiles {
  readonly png: Buffer;
  readonly svg: string;
}

/** swatch.png, likewise, and swatch.svg: of a printed cloth both show a cell of the print, from the cloth itself. */
export async function swatchFiles(
  swatch: Swatch,
  model: BandModel,
  cloth: ClothPicture,
): Promise<SwatchFiles> {
  const printed = printedSwatch(model, cloth);
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
  return { png, svg };
}
