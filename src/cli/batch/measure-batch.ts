import { mkdir, readFile } from 'node:fs/promises';
import { join } from 'node:path';
import {
  type BandModel,
  type BatchEntry,
  parseReferenceRequest,
  parseStripeHints,
  readBatchList,
  resolvedFolder,
} from '../../node.js';
import { print } from '../print.js';
import { batchProgress } from './batch-progress.js';
import type { BatchWords } from './batch-words.js';
import type { PhotoResult } from './photo-task.js';
import { type Place, placesOf } from './places.js';
import { planBatch } from './plan-batch.js';
import { processCount } from './process-count.js';
import { ProcessPool } from './process-pool.js';
import { parseShard, partOf } from './shard.js';
import { tellBatch } from './tell-batch.js';
import { untilInterrupted } from './until-interrupted.js';

export interface BatchProgram {
  readonly version: string;
  /** Words that make this command serve photos to another process of it. */
  readonly serveWords: readonly string[];
}

/** Where results go when nothing is said. */
const DEFAULT_FOLDER = 'measured';

/**
 * Measures many photos: a folder each beside an index of all. What an earlier run has done is kept; what fails is listed and
 * stops nothing. Returns the exit code. Throws UsageError for options that cannot be meant.
 */
export async function measureBatch(
  photos: readonly string[],
  words: BatchWords,
  program: BatchProgram,
): Promise<number> {
  parseReferenceRequest(words);
  parseStripeHints(words);
  const processes = processCount(words);
  const shard = words.shard === undefined ? null : parseShard(words.shard);
  const folder = words.out ?? (words.json ? null : DEFAULT_FOLDER);
  if (folder !== null) await mkdir(await resolvedFolder(folder), { recursive: true });
  const list = folder === null ? null : await readBatchList(folder);
  const { places: all, others } = await placesOf(photos, folder, list);
  const places = shard ? partOf(all, (place) => place.photo, shard) : all;

  const progress = batchProgress(process.stderr, !words.quiet, places.length);
  const entries = new Map<string, BatchEntry>();
  const notes: string[] = [];
  const take = async ({ photo, name }: Place, result: PhotoResult, kept: boolean): Promise<void> => {
    const hasFolder = folder !== null && result.entry.outcome === 'measured';
    const entry = { photo, folder: hasFolder ? name : null, ...result.entry };
    entries.set(photo, entry);
    for (const aside of result.setAside ?? []) {
      const place = join(folder ?? '', name, aside);
      notes.push(`${photo}: what had been drawn from its earlier measurement is kept in ${place}`);
    }
    progress.done(photo, entry.outcome === 'failed', kept);
    if (words.json) await print(jsonLine(entry, result.model));
  };

  const plan = await planBatch(places, folder, words, program.version);
  notes.push(...plan.notes);
  for (const { place, target, entry } of plan.done) {
    const model = words.json && entry.outcome === 'measured' ? await readModelOf(target) : null;
    await take(place, { entry, model }, true);
  }
  const tasks = plan.tasks.map((one) => one.task);
  // The same command again, however it was started.
  const pool = new ProcessPool({ processes, program: process.argv[1], words: program.serveWords });
  await untilInterrupted(
    pool,
    progress,
    () => `${entries.size} of ${places.length}`,
    () => pool.run(tasks, (index, result) => take(plan.tasks[index].place, result, false)),
  );
  progress.end();
  return tellBatch({
    folder,
    shard,
    places,
    entries: places.map(({ photo }) => entries.get(photo) as BatchEntry),
    keptCount: plan.done.length,
    others: shard ? [] : others,
    notes,
    words,
  });
}

const readModelOf = async (folder: string): Promise<BandModel> =>
  JSON.parse(await readFile(join(folder, 'bands.json'), 'utf8'));

/** For programs: one line a photo, in the order in which they are done. */
function jsonLine({ photo, folder, outcome, failure, sha256 }: BatchEntry, model: BandModel | null): string {
  return `${JSON.stringify({ photo, outcome, folder, sha256, failure, model })}\n`;
}
