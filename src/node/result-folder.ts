import { realpath } from 'node:fs/promises';
import { join, resolve } from 'node:path';
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
  'bands.csv',
  'bands.json',
] as const;

/**
 * Whether a measurement may be written there, asked before any work is done. Throws UsageError when the folder is a file, or
 * when a file of the result would take the place of the photo itself.
 */
export async function checkResultFolder(folder: string, photoPath: string): Promise<void> {
  const target = await resolvedFolder(folder);
  const photo = await realpath(photoPath).catch(() => resolve(photoPath));
  if (MEASUREMENT_FILES.some((name) => join(target, name) === photo)) {
    throw new UsageError(`the result would overwrite ${photoPath}: name another folder`, null, ['out']);
  }
}
