import { createHash } from 'node:crypto';
import { createReadStream } from 'node:fs';
import { readFile, stat } from 'node:fs/promises';
import { join } from 'node:path';
import { pipeline } from 'node:stream/promises';
import type { BatchEntry } from '../index.js';
import { MEASUREMENT_FILES } from './result-folder.js';
import { staleResults } from './stale-results.js';
import { writeFiles } from './write-files.js';

/** What tells in a photo's folder that its work is done; written after everything else. */
export const RECORD_FILE = 'batch.json';

const FORMAT = 'stripewright.batch-entry';

/** What the result depends on besides the photo. */
export interface BatchSetting {
  /** Version of the program. */
  readonly program: string;
  /** The options as typed, but for those that only say where and how results are shown. */
  readonly options: Readonly<Record<string, unknown>>;
}

/** Without what depends on where the command was given. */
export type RecordedEntry = Omit<BatchEntry, 'photo' | 'folder'>;

interface BatchRecord extends BatchSetting {
  readonly format: typeof FORMAT;
  readonly version: 1;
  readonly entry: RecordedEntry;
  readonly files: readonly { readonly name: string; readonly bytes: number }[];
}

/** Says that a photo's work is done. `files`: what was written; of a refused photo none, and files of an earlier result go. */
export async function writeBatchRecord(
  folder: string,
  setting: BatchSetting,
  entry: RecordedEntry,
  files: readonly string[],
): Promise<void> {
  const sizes = await Promise.all(
    files.map(async (name) => ({ name, bytes: (await stat(join(folder, name))).size })),
  );
  const record: BatchRecord = { format: FORMAT, version: 1, ...setting, entry, files: sizes };
  // Without a model nothing that was drawn from one is of this photo any more.
  const [stale, aside] =
    files.length === 0 ? [MEASUREMENT_FILES, await staleResults(folder, null)] : [[], []];
  await writeFiles(
    folder,
    [{ name: RECORD_FILE, content: `${JSON.stringify(record, null, 1)}\n` }],
    stale,
    aside.flatMap((one) => one.moves),
  );
}

/**
 * The entry of a photo whose work is done already: the same bytes, program and options, and every file still there whole. Null
 * when it has to be measured.
 */
export async function readBatchRecord(
  folder: string,
  setting: BatchSetting,
  photoPath: string,
): Promise<RecordedEntry | null> {
  try {
    const record: BatchRecord = JSON.parse(await readFile(join(folder, RECORD_FILE), 'utf8'));
    if (record.format !== FORMAT || record.version !== 1 || record.program !== setting.program) return null;
    if (sorted(record.options) !== sorted(setting.options)) return null;
    for (const { name, bytes } of record.files) {
      if ((await stat(join(folder, name))).size !== bytes) return null;
    }
    return record.entry.sha256 === (await sha256OfFile(photoPath)) ? record.entry : null;
  } catch {
    // No record, a damaged one, or a file gone: then there is nothing to keep.
    return null;
  }
}

/** Of a file's bytes, lower-case hex. */
export async function sha256OfFile(path: string): Promise<string> {
  const hash = createHash('sha256');
  await pipeline(createReadStream(path), hash);
  return hash.digest('hex');
}

/** A record's options whatever their order. */
const sorted = (options: Readonly<Record<string, unknown>>): string =>
  JSON.stringify(Object.entries(options).sort(([a], [b]) => (a < b ? -1 : 1)));
