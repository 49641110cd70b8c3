import sharp from 'sharp';
import { checkAll, listOf, record, text } from '../core/base/expectation.js';
import type { Placement, SvgSheet } from '../index.js';
import { type ResultFile, writeFiles } from './write-files.js';

/** Name of the record; written last, so that a folder with it is whole. */
const RECORD = 'place.json';

/** Writes the pictures as PNG and SVG, the page, and place.json, into a folder that then holds the whole result. */
export async function writePlacement(
  folder: string,
  placement: Placement,
  sheets: readonly SvgSheet[],
  page: string,
): Promise<void> {
  checkAll({
    folder: [folder, text],
    placement: [placement, record({ answers: listOf(record({}), { least: 1 }, 'answers') }, 'a placement')],
    sheets: [sheets, listOf(record({ name: text, svg: text }))],
    page: [page, text],
  });
  const pictures = await Promise.all(
    sheets.map(
      async ({ name, svg }): Promise<ResultFile[]> => [
        { name: `${name}.png`, content: await sharp(Buffer.from(svg), { unlimited: true }).png().toBuffer() },
        { name: `${name}.svg`, content: svg },
      ],
    ),
  );
  await writeFiles(
    folder,
    [
      ...pictures.flat(),
      { name: 'place.html', content: page },
      { name: RECORD, content: `${JSON.stringify(placement, null, 2)}\n` },
    ],
    [],
  );
}
