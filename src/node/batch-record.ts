import { createHash } from 'node:crypto';
import { createReadStream } from 'node:fs';
import { readFile, stat } from 'node:fs/promises';
import { join } from 'node:path';
import { pipeline } from 'node:stream/promises';
import {
  callback,
  check,
  checkAll,
  listOf,
  oneOf,
  optional,
  orNull,
  record,
  text,
} from '../core/base/expectation.js';
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
  readonly options: Options;
  /** Of these, what was given for this photo alone, so that later runs over all keep to it; null or absent: nothing was. */
  readonly own?: Options | null;
}

type Options = Readonly<Record<string, unknown>>;

/** Without what depends on where the command was given. */
export type RecordedEntry = Omit<BatchEntry, 'photo' | 'folder'>;

export interface BatchRecord extends BatchSetting {
  readonly format: typeof FORMAT;
  readonly version: 1;
  readonly entry: RecordedEntry;
  readonly files: readonly { readonly name: string; readonly bytes: number }[];
}

const SETTING = record({ program: text, options: record({}), own: optional(orNull(record({}))) });
const RECORDED = record({ outcome: oneOf(['measured', 'failed']), sha256: orNull(text) }, "a photo's entry");

/**
 * Says that a photo's work is done. `files`: what was written; of a refused photo none, and files of an earlier result go.
 * Returns the names of folders in which what was drawn from that earlier result is kept.
 */
export async function writeBatchRecord(
  folder: string,
  setting: BatchSetting,
  entry: RecordedEntry,
  files: readonly string[],
): Promise<readonly string[]> {
  checkAll({
    folder: [folder, text],
    setting: [setting, SETTING],
    entry: [entry, RECORDED],
    files: [files, listOf(text)],
  });
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
  return aside.map((one) => one.keptIn);
}

/** A photo's work as an earlier run left it. */
export interface EarlierWork {
  /** What was given for this photo alone; null when nothing was, or for a photo that has changed since. */
  readonly own: Options | null;
  /** What was given for this photo alone before it changed: points and corners in it mean nothing any more. */
  readonly lost: Options | null;
  /** The entry of work that is done; null when the photo has to be measured. */
  readonly entry: RecordedEntry | null;
}

const NO_WORK: EarlierWork = { own: null, lost: null, entry: null };

/**
 * What an earlier run did of a photo. It is done when it was of the same bytes and program, with the options that `settingOf`
 * gives for those of its own, and every file is still there whole.
 */
export async function readBatchRecord(
  folder: string,
  settingOf: (own: Options | null) => BatchSetting,
  photoPath: string,
): Promise<EarlierWork> {
  checkAll({ folder: [folder, text], settingOf: [settingOf, callback], photoPath: [photoPath, text] });
  const record = await readRecord(folder);
  if (record === null) return NO_WORK;
  const given = record.own ?? null;
  const sha256 = await sha256OfFile(photoPath).catch(() => null);
  if (sha256 === null || record.entry.sha256 !== sha256) return { ...NO_WORK, lost: given };
  const setting = settingOf(given);
  check(setting, 'settingOf', SETTING);
  const isDone =
    record.program === setting.program &&
    sorted(record.options) === sorted(setting.options) &&
    (await areWhole(folder, record.files));
  return { own: given, lost: null, entry: isDone ? record.entry : null };
}

/** Null where there is no record, or a damaged one: then there is nothing to keep. */
export async function readRecord(folder: string): Promise<BatchRecord | null> {
  try {
    const record: BatchRecord = JSON.parse(await readFile(join(folder, RECORD_FILE), 'utf8'));
    if (record.format !== FORMAT || record.version !== 1) return null;
    return Array.isArray(record.files) && typeof record.entry === 'object' ? record : null;
  } catch {
    return null;
  }
}

async function areWhole(folder: string, files: BatchRecord['files']): Promise<boolean> {
  for (const { name, bytes } of files) {
    const size = await stat(join(folder, name)).then(
      (facts) => facts.size,
      () => null,
    );
    if (size !== bytes) return false;
  }
  return true;
}

/** Of a file's bytes, lower-case hex. */
export async function sha256OfFile(path: string): Promise<string> {
  check(path, 'path', text);
  const hash = createHash('sha256');
  await pipeline(createReadStream(path), hash);
  return hash.digest('hex');
}

/** A record's options whatever their order. */
const sorted = (options: Options): string =>
  JSON.stringify(Object.entries(options).sort(([a], [b]) => (a < b ? -1 : 1)));
