import { join } from 'node:path';
import {
  type BatchEntry,
  type BatchList,
  type BatchSetting,
  type ListedPhoto,
  recordedEntry,
  writeBatchIndex,
} from '../../node.js';
import type { Measured, MeasureWords } from '../measure-one.js';
import { oneLine } from '../print.js';
import { optionsOf, typedOptions } from './own-options.js';
import { recordMeasured } from './photo-task.js';
import { placesOf } from './places.js';

/** One photo that is put right by itself, in a folder of many. */
export interface PhotoOfBatch {
  /** Its own folder. */
  readonly folder: string;
  /** The options of all, with its own over them. */
  readonly words: MeasureWords;
  /** Says in its folder that it is done and writes the index of all again. Returns what a person should know, a line each. */
  readonly finish: (measured: Measured) => Promise<readonly string[]>;
}

/**
 * Where one photo belongs among many that were measured before, and with what it is measured.
 *
 * @param list what the folder of the batch holds
 * @param own the options typed for this photo alone; none: from now on it is measured like all the others
 */
export async function photoOfBatch(
  photo: string,
  batchFolder: string,
  list: BatchList,
  own: BatchSetting['options'],
  version: string,
): Promise<PhotoOfBatch> {
  const { places, others } = await placesOf([photo], batchFolder, list);
  const [place] = places;
  const folder = join(batchFolder, place.name);
  const options = optionsOf(list.options, own);
  const hasOwn = Object.keys(own).length > 0;
  const setting: BatchSetting = { program: version, options, own: hasOwn ? own : null };
  const finish = async (measured: Measured): Promise<readonly string[]> => {
    const { sha256, outcome, failure } = await recordMeasured(folder, setting, measured);
    const listed: ListedPhoto = { photo, from: place.from, folder: place.name, sha256, outcome, failure };
    const index = list.photos.map((one) => (others.includes(one) ? one : listed));
    if (!index.includes(listed)) index.push(listed);
    const page = await rewriteIndex(batchFolder, { options: list.options, photos: index });
    const kept = hasOwn
      ? `keeps to ${typedOptions(own)}, whatever is given for all`
      : 'is measured like all the others';
    return [`${oneLine(join(batchFolder, page))} is written again; from now on ${oneLine(photo)} ${kept}`];
  };
  return { folder, words: options, finish };
}

/** From what the folders hold; a photo whose folder was taken away is left out, one that could not be measured stays with its reason. */
async function rewriteIndex(folder: string, list: BatchList): Promise<string> {
  const photos: ListedPhoto[] = [];
  const entries: BatchEntry[] = [];
  for (const one of list.photos) {
    const entry = (await recordedEntry(folder, one)) ?? asListed(one);
    if (entry === null) continue;
    photos.push(one);
    entries.push(entry);
  }
  const unit = optionsOf(list.options, null).units;
  const [, page] = await writeBatchIndex(folder, 'index', entries, unit, { options: list.options, photos });
  return page;
}

const asListed = ({ photo, sha256, outcome, failure }: ListedPhoto): BatchEntry | null =>
  outcome === 'failed'
    ? { photo, folder: null, sha256, outcome, failure, thumbnail: null, facts: null }
    : null;
