import { readFile } from 'node:fs/promises';
import { join } from 'node:path';
import {
  type ChevronPictures,
  type ChevronPreview,
  type ChevronRecord,
  chevronRecord,
  type ModelSource,
} from '../index.js';
import { encodePicture } from './encode-picture.js';
import { type ResultFile, writeFiles } from './write-files.js';

/** Name of the record; written last, so that a folder with it is whole. */
export const CHEVRON_RECORD = 'chevron.json';
/** Names this program gives: nothing else in the folder is ever taken away. */
export const CHEVRON_FILE = /^(chevron|cloth)-[\w.-]+\.(png|svg)$/;

/**
 * Writes all pictures of a preview and chevron.json into a folder, and takes away pictures that an earlier
 * run left there. Gives back the record as written.
 */
export async function writeChevron(
  folder: string,
  preview: ChevronPreview,
  pictures: ChevronPictures,
  model: ModelSource,
  from: 'model' | 'cloth',
): Promise<ChevronRecord> {
  const encoded = await Promise.all(pictures.jobs.map(encodePicture));
  const files: ResultFile[] = encoded.flatMap(({ png, svg }, i) => [
    { name: `${pictures.jobs[i].name}.png`, content: png },
    { name: `${pictures.jobs[i].name}.svg`, content: svg },
  ]);
  const record = chevronRecord(preview, {
    model,
    from,
    seamNames: pictures.seamNames,
    files: [...files.map((file) => file.name), CHEVRON_RECORD],
  });
  files.push({ name: CHEVRON_RECORD, content: `${JSON.stringify(record, null, 2)}\n` });
  await writeFiles(folder, files, await formerFiles(folder));
  return record;
}

/** What an earlier chevron.json in the folder says it wrote. */
async function formerFiles(folder: string): Promise<string[]> {
  try {
    const former: unknown = JSON.parse(await readFile(join(folder, CHEVRON_RECORD), 'utf8'));
    const { format, files } = former as Partial<ChevronRecord>;
    return format === 'stripewright.chevron' && Array.isArray(files)
      ? files.filter((name) => CHEVRON_FILE.test(name))
      : [];
  } catch {
    return [];
  }
}
