import {
  type BatchEntry,
  type BatchList,
  type ListedPhoto,
  recordedEntry,
  writeBatchIndex,
} from '../../node.js';
import { withOptions } from '../option-words.js';
import { complain, oneLine, print } from '../print.js';
import type { BatchWords } from './batch-words.js';
import { lastingOptions } from './own-options.js';
import type { Place } from './places.js';
import type { Shard } from './shard.js';

const SOME_FAILED = 1;

/** A batch that is done. */
export interface BatchOutcome {
  /** Null when nothing was to be written. */
  readonly folder: string | null;
  readonly shard: Shard | null;
  readonly places: readonly Place[];
  /** One for each place. */
  readonly entries: readonly BatchEntry[];
  /** How many of them an earlier run had done. */
  readonly keptCount: number;
  /** Photos of earlier runs that were not given this time. */
  readonly others: readonly ListedPhoto[];
  readonly notes: readonly string[];
  readonly words: BatchWords;
}

/** Writes the index, says what was done and what failed. Returns the exit code, which is that of the photos given. */
export async function tellBatch(outcome: BatchOutcome): Promise<number> {
  const { folder, places, entries, keptCount, notes, words } = outcome;
  const written = folder === null ? null : await writeIndexOf(folder, outcome);
  const failures = entries.filter((entry) => entry.outcome === 'failed');
  if (!words.json && !words.quiet) {
    const own = entries.filter((entry) => entry.ownOptions !== undefined).length;
    const asides = [
      keptCount > 0 ? `${keptCount} ${keptCount === 1 ? 'was' : 'were'} done before` : '',
      own > 0 ? `${own} ${own === 1 ? 'has options of its' : 'have options of their'} own` : '',
    ].filter((text) => text !== '');
    const lines = [
      `${entries.length - failures.length} of ${places.length} photos measured${asides.length > 0 ? ` (${asides.join(', ')})` : ''}`,
      ...(written !== null && written.otherCount > 0 ? [othersLine(written.otherCount)] : []),
      ...notes.map(oneLine),
      `In ${oneLine(folder ?? '.')}: look at ${written?.page} first`,
    ];
    await print(`${lines.join('\n')}\n`);
  } else if (!words.quiet) for (const note of notes) complain(note);
  for (const { photo, failure } of failures)
    complain(`${photo}: ${failure === null ? '' : withOptions(failure)}`);
  return failures.length > 0 ? SOME_FAILED : 0;
}

const othersLine = (count: number): string =>
  count === 1
    ? 'One photo of an earlier run stays in the index: take its folder away to take it out'
    : `${count} photos of earlier runs stay in the index: take their folders away to take them out`;

async function writeIndexOf(
  folder: string,
  { shard, places, entries, others, words }: BatchOutcome,
): Promise<{ page: string; otherCount: number }> {
  if (shard !== null) {
    const name = `index-${shard.part}-of-${shard.of}`;
    const [, page] = await writeBatchIndex(folder, name, entries, words.units);
    return { page, otherCount: 0 };
  }
  const listed = places.map(({ photo, from, name }, k): ListedPhoto => {
    const { sha256, outcome, failure } = entries[k];
    return { photo, from, folder: name, sha256, outcome, failure };
  });
  const all = [...entries];
  for (const one of others) {
    // Whose folder was taken away, or who never had one, is listed no longer.
    const entry = await recordedEntry(folder, one);
    if (entry === null) continue;
    listed.push(one);
    all.push(entry);
  }
  const list: BatchList = { options: lastingOptions(words), photos: listed };
  const [, page] = await writeBatchIndex(folder, 'index', all, words.units, list);
  return { page, otherCount: all.length - entries.length };
}
