import { type BatchEntry, batchCsv, contactSheet, type LengthUnit } from '../index.js';
import { writeFiles } from './write-files.js';

/** Writes the index of many photos, NAME.csv and NAME.html, beside their folders. Returns the names. */
export async function writeBatchIndex(
  folder: string,
  name: string,
  entries: readonly BatchEntry[],
  unit: LengthUnit,
): Promise<readonly [csv: string, page: string]> {
  const names = [`${name}.csv`, `${name}.html`] as const;
  await writeFiles(folder, [
    { name: names[0], content: batchCsv(entries) },
    { name: names[1], content: contactSheet(entries, unit) },
  ]);
  return names;
}
