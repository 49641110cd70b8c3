import { realpath } from 'node:fs/promises';
import { join, resolve } from 'node:path';
import { checkAll, listOf, text } from '../core/base/expectation.js';
import { UsageError } from '../index.js';
import { resolvedFolder } from './write-files.js';

export const CLOTH = 'cloth.png';
/** Everything that a measurement may write, bands.json last: where it is, the rest is. */
export const MEASUREMENT_FILES = [
  'overlay.png',
  CLOTH,
  'swatch.png',
  'swatch.svg',
  'report.html',
  'true-size.html',
  'bands.csv',
  'bands.json',
] as const;

/** Name of a chevron's record; written last, so that a folder with it is whole. */
export const CHEVRON_RECORD = 'chevron.json';
/** Names that a chevron's pictures, page and typed model are given: no other file is ever taken away. */
export const CHEVRON_FILE = /^((chevron|cloth)-[\w.-]+\.(png|svg)|chevron\.html|typed-cloth\.json)$/;

/**
 * Whether a result may be written there, asked before any work is done. `names`: its files, those of a measurement by default. Throws
 * UsageError when the folder is a file, or when a file of the result would take the place of what it is made from.
 */
export async function checkResultFolder(
  folder: string,
  sourcePath: string,
  names: readonly string[] = MEASUREMENT_FILES,
): Promise<void> {
  checkAll({ folder: [folder, text], sourcePath: [sourcePath, text], names: [names, listOf(text)] });
  const target = await resolvedFolder(folder);
  const source = await realpath(sourcePath).catch(() => resolve(sourcePath));
  if (names.some((name) => join(target, name) === source)) {
    throw new UsageError(`the result would overwrite ${sourcePath}: name another folder`, null, ['out']);
  }
}
