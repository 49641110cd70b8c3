import sharp from 'sharp';
import { check, checkFields, record, text, yesOrNo } from '../core/base/expectation.js';
import { LENGTH_UNIT } from '../core/base/length.js';
import {
  drawPieces,
  formatPieces,
  type LengthUnit,
  type PiecesFile,
  writePiecesDxf,
  writePiecesSvg,
} from '../index.js';
import { type ResultFile, writeFiles } from './write-files.js';

/** Everything that may be written, pieces.json last: where it is, the rest is. */
export const PIECES_FILES = [
  'overview.png',
  'overview.svg',
  'pieces.svg',
  'pieces.dxf',
  'pieces.json',
] as const;

export interface WritePiecesOptions {
  /** Heading of the picture. */
  readonly title: string;
  readonly unit: LengthUnit;
  /** Whether pieces.dxf is written too. */
  readonly dxf: boolean;
}

const OPTIONS = record({ title: text, unit: LENGTH_UNIT, dxf: yesOrNo });

/** 5 px for a mm of the page: letters of 1.5 mm are 7 px high. */
const PX_PER_MM = 5;
/** A page of very many pieces is drawn coarser, px on its longer side. */
const MOST_PX = 12_000;

/** Writes the picture of pieces, and the pieces themselves as a drawing, as JSON and if wanted as DXF, into a folder: all or nothing. */
export async function writePieces(
  folder: string,
  pieces: PiecesFile,
  options: WritePiecesOptions,
): Promise<void> {
  check(folder, 'folder', text);
  checkFields(options, 'options', OPTIONS);
  const { title, unit, dxf } = options;
  const overview = drawPieces(pieces, title, unit);
  const files: ResultFile[] = [
    { name: 'overview.png', content: await pngOf(overview) },
    { name: 'overview.svg', content: overview },
    { name: 'pieces.svg', content: writePiecesSvg(pieces) },
    ...(dxf ? [{ name: 'pieces.dxf', content: writePiecesDxf(pieces) }] : []),
    { name: 'pieces.json', content: formatPieces(pieces) },
  ];
  await writeFiles(folder, files, PIECES_FILES);
}

async function pngOf(svg: string): Promise<Buffer> {
  const [size, width, height] = /width="([\d.]+)mm" height="([\d.]+)mm"/.exec(svg) as RegExpExecArray;
  const pxPerMm = Math.min(PX_PER_MM, MOST_PX / Math.max(Number(width), Number(height)));
  const px = (mm: string): number => Math.round(Number(mm) * pxPerMm);
  // In px, which the decoder draws one to one: what it makes of mm depends on its release.
  const inPx = svg.replace(size, `width="${px(width)}" height="${px(height)}"`);
  return sharp(Buffer.from(inPx), { limitInputPixels: MOST_PX * MOST_PX })
    .flatten({ background: '#ffffff' })
    .withDensity(pxPerMm * 25.4)
    .png({ palette: true, compressionLevel: 9 })
    .toBuffer();
}
