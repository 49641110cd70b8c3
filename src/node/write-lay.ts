import sharp from 'sharp';
import { checkAll, numberWithin, record, text, textLike } from '../core/base/expectation.js';
import { type LayAnswer, type LayDrawing, parseLay, UsageError } from '../index.js';
import { writeFiles } from './write-files.js';

/** Name of the record; written last, so that a folder with it is whole. */
const RECORD = 'lay.json';

/** The longer side of the picture, px: bands of some mm are told apart on a few metres of cloth. */
const LONG_SIDE_PX = 2400;
/** Of a drawing in mm at one dot an inch. */
const MM_PER_INCH = 25.4;

/** Writes lay.svg, the same as a picture, and lay.json, into a folder that then holds the whole result. */
export async function writeLay(folder: string, lay: LayAnswer, drawing: LayDrawing): Promise<void> {
  checkAll({
    folder: [folder, text],
    lay: [lay, record({})],
    drawing: [
      drawing,
      record({
        svg: textLike(/^<svg /, 'an SVG'),
        widthMm: numberWithin({ above: 0 }),
        heightMm: numberWithin({ above: 0 }),
      }),
    ],
  });
  const content = `${JSON.stringify(lay, null, 2)}\n`;
  const read = parseLay(content);
  if (!read.ok) throw new UsageError(`expected a lay as layPieces gives it: ${read.refusal.found}`, 'lay');
  await writeFiles(
    folder,
    [
      { name: 'lay.png', content: await picture(drawing) },
      { name: 'lay.svg', content: drawing.svg },
      { name: RECORD, content },
    ],
    [],
  );
}

function picture({ svg, widthMm, heightMm }: LayDrawing): Promise<Buffer> {
  const density = (LONG_SIDE_PX / Math.max(widthMm, heightMm)) * MM_PER_INCH;
  return sharp(Buffer.from(svg), { density: Math.min(300, Math.max(2, density)), unlimited: true })
    .flatten({ background: '#ffffff' })
    .png()
    .toBuffer();
}
