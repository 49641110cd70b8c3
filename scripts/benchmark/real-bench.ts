import { boardRow } from './real/boards.js';
import { type RealEntry, type RealRow, realEntries } from './real/real-photo.js';
import { noRulerRow, rulerRow } from './real/rulers.js';
import { stripesRow } from './real/stripes.js';

/** A row for each real photo that something is known of by hand. */
export async function benchReal(only: RegExp): Promise<void> {
  const entries = realEntries();
  if (!entries) {
    console.log('Real photos: not beside the project, skipped.');
    return;
  }
  console.log(`\nReal photos\n${'photo'.padEnd(34)}${'by hand'.padEnd(38)}right  measured`);
  const rows: RealRow[] = [];
  for (const entry of entries.filter(({ file }) => only.test(file))) {
    const row = await rowOf(entry);
    rows.push(row);
    const verdict = row.right === null ? '-' : row.right ? 'yes' : 'NO';
    console.log(`${row.name.padEnd(34)}${row.what.padEnd(38)}${verdict.padEnd(7)}${row.result}`);
  }
  const judged = rows.filter(({ right }) => right !== null);
  console.log(`right: ${judged.filter(({ right }) => right).length} of ${judged.length}`);
}

function rowOf(entry: RealEntry): Promise<RealRow> {
  const { kind, file } = entry;
  if (kind === 'ruler') return rulerRow(entry);
  if (kind === 'calibration board') return boardRow(entry);
  if (/striped garment|fabric/.test(kind)) return stripesRow(entry);
  if (/graph paper|known-size/.test(kind)) return noRulerRow(entry);
  return Promise.resolve({
    name: file,
    what: kind,
    result: 'skipped: neither ticks nor stripes',
    right: null,
  });
}
