import sharp from 'sharp';
import { checkAll, listOf, numberWithin, record, text, textLike } from '../core/base/expectation.js';
import { type LayAnswer, type LayDrawing, parseLay, UsageError } from '../index.js';
import { type ResultFile, writeFiles } from './write-files.js';

/** Name of the record; written last, so that a folder with it is whole. */
const RECORD = 'lay.json';

/** The longer side of the picture, px: bands of some mm are told apart on a few metres of cloth. */
const LONG_SIDE_PX = 2400;
/** Of a drawing in mm at one dot an inch. */
const MM_PER_INCH = 25.4;

/** A drawing with the name of its files. */
export interface NamedDrawing extends LayDrawing {
  readonly name: string;
}

/** Pictures of ways to make pieces fit that an earlier result may have left. */
const STALE = Array.from({ length: 6 }, (_, k) => [`remedy-${k + 1}.png`, `remedy-${k + 1}.svg`]).flat();

/** Writes each drawing as SVG and PNG, the lay as DXF, and lay.json, into a folder that then holds the whole result. */
export async function writeLay(
  folder: string,
  lay: LayAnswer,
  drawings: readonly NamedDrawing[],
  dxf: string,
): Promise<void> {
  checkAll({
    folder: [folder, text],
    lay: [lay, record({})],
    drawings: [drawings, listOf(DRAWING, { least: 1 }, 'drawings')],
    dxf: [dxf, text],
  });
  const content = `${JSON.stringify(lay, null, 2)}\n`;
  const read = parseLay(content);
  if (!read.ok) throw new UsageError(`expected a lay as layPieces gives it: ${read.refusal.found}`, 'lay');
  const pictures = await Promise.all(
    drawings.map(
      async (drawing): Promise<ResultFile[]> => [
        { name: `${drawing.name}.png`, content: await picture(drawing) },
        { name: `${drawing.name}.svg`, content: drawing.svg },
      ],
    ),
  );
  const files = [...pictures.flat(), { name: 'lay.dxf', content: dxf }, { name: RECORD, content }];
  const stale = STALE.filter((name) => !files.some((file) => file.name === name));
  await writeFiles(folder, files, stale);
}

const DRAWING = record({
  name: textLike(/^[\w-]+$/, 'a name of a file without its ending'),
  svg: textLike(/^<svg /, 'an SVG'),
  widthMm: numberWithin({ above: 0 }),
  heightMm: numberWithin({ above: 0 }),
});

function picture({ svg, widthMm, heightMm }: LayDrawing): Promise<Buffer> {
  const density = (LONG_SIDE_PX / Math.max(widthMm, heightMm)) * MM_PER_INCH;
  return sharp(Buffer.from(svg), { density: Math.min(300, Math.max(2, density)), unlimited: true })
    .flatten({ background: '#ffffff' })
    .png()
    .toBuffer();
}
