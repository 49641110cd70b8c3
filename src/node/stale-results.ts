import { existsSync } from 'node:fs';
import { readdir, readFile } from 'node:fs/promises';
import { join } from 'node:path';
import { CHEVRON_FILE, CHEVRON_RECORD } from './result-folder.js';
import type { Move } from './write-files.js';

/** Records that follow from a model, and which files they may name: nothing else is ever moved. */
const RECORDS: readonly { readonly file: string; readonly kind: string; readonly ours: RegExp }[] = [
  { file: CHEVRON_RECORD, kind: 'chevron', ours: CHEVRON_FILE },
];

/** A folder that bears this was set aside before. */
const ASIDE = /-earlier(-\d+)?$/;

/** Results of an earlier measurement that stand beside a new one, and where they are kept. */
export interface StaleResult {
  /** Name of the folder they are kept in, inside the measurement's. */
  readonly keptIn: string;
  readonly moves: readonly Move[];
}

/**
 * What was made from an earlier bands.json of a folder and would be taken for the new one's: results in the folder itself, or in a
 * folder inside it, whose record names another hash than `sha256` (null: there is no model any more), or none as earlier versions
 * wrote. What was made from a model of another name is left alone. Nothing is moved here: see writeFiles.
 */
export async function staleResults(folder: string, sha256: string | null): Promise<StaleResult[]> {
  const entries = await readdir(folder, { withFileTypes: true }).catch(() => []);
  const inside = entries.filter((entry) => entry.isDirectory() && !ASIDE.test(entry.name));
  const found: StaleResult[] = [];
  for (const record of RECORDS) {
    const free = freeName(folder, found);
    const files = await staleFiles(folder, record, sha256);
    if (files !== null) {
      const keptIn = free(record.kind);
      found.push({ keptIn, moves: files.map((name) => ({ from: name, to: join(keptIn, name) })) });
    }
    for (const { name } of inside) {
      if ((await staleFiles(join(folder, name), record, sha256)) === null) continue;
      const keptIn = free(name);
      found.push({ keptIn, moves: [{ from: name, to: keptIn }] });
    }
  }
  return found;
}

/** The files of a stale result that are there, its record among them; null where there is none, or it is not stale. */
async function staleFiles(
  folder: string,
  { file, kind, ours }: (typeof RECORDS)[number],
  sha256: string | null,
): Promise<string[] | null> {
  try {
    const record = JSON.parse(await readFile(join(folder, file), 'utf8'));
    if (record.format !== `stripewright.${kind}`) return null;
    const model = typeof record.model === 'string' ? { file: record.model, sha256: null } : record.model;
    if (model.file !== 'bands.json' || (sha256 !== null && model.sha256 === sha256)) return null;
    const named: unknown[] = Array.isArray(record.files) ? record.files : [];
    const pictures = named.filter((name): name is string => typeof name === 'string' && ours.test(name));
    return [...pictures, file].filter((name) => existsSync(join(folder, name)));
  } catch {
    // No record, or a damaged one: nothing that would be taken for a result.
    return null;
  }
}

/** NAME-earlier, or with a number where that is taken. */
const freeName =
  (folder: string, found: readonly StaleResult[]) =>
  (name: string): string => {
    for (let k = 1; ; k++) {
      const tried = k === 1 ? `${name}-earlier` : `${name}-earlier-${k}`;
      if (!existsSync(join(folder, tried)) && !found.some((one) => one.keptIn === tried)) return tried;
    }
  };
