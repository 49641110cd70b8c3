import { checkAll, text } from '../core/base/expectation.js';
import { type BatchEntry, batchCsv, contactSheet, type LengthUnit } from '../index.js';
import { type BatchList, formatBatchList, LIST_FILE } from './batch-list.js';
import { writeFiles } from './write-files.js';

/**
 * Writes the index of many photos, NAME.csv and NAME.html, beside their folders, and the list of the photos where one is given.
 * Returns the names.
 */
export async function writeBatchIndex(
  folder: string,
  name: string,
  entries: readonly BatchEntry[],
  unit: LengthUnit,
  list: BatchList | null = null,
): Promise<readonly [csv: string, page: string]> {
  checkAll({ folder: [folder, text], name: [name, text] });
  const names = [`${name}.csv`, `${name}.html`] as const;
  await writeFiles(folder, [
    { name: names[0], content: batchCsv(entries) },
    { name: names[1], content: contactSheet(entries, unit) },
    ...(list === null ? [] : [{ name: LIST_FILE, content: formatBatchList(list) }]),
  ]);
  return names;
}
