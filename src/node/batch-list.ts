import { existsSync } from 'node:fs';
import { readdir, readFile } from 'node:fs/promises';
import { dirname, join } from 'node:path';
import { check, checkAll, record as recordOf, text } from '../core/base/expectation.js';
import type { BatchEntry, BatchFailure } from '../index.js';
import { type BatchSetting, RECORD_FILE, readRecord } from './batch-record.js';

/** The list of many photos beside their folders, for later runs and for programs. */
export const LIST_FILE = 'index.json';

const FORMAT = 'stripewright.batch-index';

/** One photo of the list. Figures and pictures are in its folder. */
export interface ListedPhoto {
  /** The path as it was given. */
  readonly photo: string;
  /** The path seen from the list's folder, with forward slashes: what tells the photo from another of its name. */
  readonly from: string;
  /** Name of its folder, kept for it whether or not there is anything in it. */
  readonly folder: string;
  readonly sha256: string | null;
  readonly outcome: BatchEntry['outcome'];
  readonly failure: BatchFailure | null;
}

export interface BatchList {
  /** What the photos were measured with, but for those with options of their own. */
  readonly options: BatchSetting['options'];
  /** In the order of the index. */
  readonly photos: readonly ListedPhoto[];
}

/** As a file's content. */
export const formatBatchList = ({ options, photos }: BatchList): string =>
  `${JSON.stringify({ format: FORMAT, version: 1, options, photos }, null, 1)}\n`;

/** The list in a folder of many photos; null where there is none, or a damaged one. */
export async function readBatchList(folder: string): Promise<BatchList | null> {
  check(folder, 'folder', text);
  try {
    const list = JSON.parse(await readFile(join(folder, LIST_FILE), 'utf8'));
    if (list.format !== FORMAT || list.version !== 1 || !Array.isArray(list.photos)) return null;
    const photos = (list.photos as ListedPhoto[]).filter(
      ({ photo, from, folder: name }) =>
        [photo, from, name].every((one) => typeof one === 'string') && dirname(name) === '.',
    );
    return { options: Object(list.options), photos };
  } catch {
    return null;
  }
}

/** Whether photos were measured into folders inside this one, as many are, and no list of them was written. */
export async function holdsUnlisted(folder: string): Promise<boolean> {
  check(folder, 'folder', text);
  if (existsSync(join(folder, LIST_FILE))) return false;
  const names = await readdir(folder).catch(() => []);
  return names.some((name) => existsSync(join(folder, name, RECORD_FILE)));
}

/** What the index shows of a listed photo, from the record in its folder; null where that is gone. */
export async function recordedEntry(folder: string, listed: ListedPhoto): Promise<BatchEntry | null> {
  checkAll({ folder: [folder, text], listed: [listed, recordOf({ photo: text, folder: text })] });
  const { photo, folder: name } = listed;
  const record = await readRecord(join(folder, name));
  if (record === null) return null;
  const { entry } = record;
  return { photo, folder: entry.outcome === 'measured' ? name : null, ...entry };
}
