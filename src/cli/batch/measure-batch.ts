import { mkdir, readFile, realpath } from 'node:fs/promises';
import { constants } from 'node:os';
import { join, resolve } from 'node:path';
import {
  type BandModel,
  type BatchEntry,
  type BatchSetting,
  parseReferenceRequest,
  parseStripeHints,
  readBatchRecord,
  resolvedFolder,
  writeBatchIndex,
} from '../../node.js';
import type { MeasureWords } from '../measure-one.js';
import { withOptions } from '../option-words.js';
import { complain, oneLine, print } from '../print.js';
import { type BatchProgress, batchProgress } from './batch-progress.js';
import { folderNames } from './folder-names.js';
import type { PhotoResult, PhotoTask } from './photo-task.js';
import { type ProcessWords, processCount } from './process-count.js';
import { ProcessPool } from './process-pool.js';
import { parseShard, partOf } from './shard.js';

/** What was asked for, as typed. */
export interface BatchWords extends MeasureWords, ProcessWords {
  readonly out?: string;
  readonly shard?: string;
  readonly json?: boolean;
  readonly quiet?: boolean;
}

export interface BatchProgram {
  readonly version: string;
  /** Words that make this command serve photos to another process of it. */
  readonly serveWords: readonly string[];
}

/** Where results go when nothing is said. */
const DEFAULT_FOLDER = 'measured';
const SOME_FAILED = 1;
const SIGNALS = ['SIGINT', 'SIGTERM', 'SIGHUP'] as const;

interface Place {
  readonly photo: string;
  /** Name of its folder beside the index. */
  readonly name: string;
}

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
  const all = await placesOf(photos);
  const places = shard ? partOf(all, (place) => place.photo, shard) : all;
  if (folder !== null) await mkdir(await resolvedFolder(folder), { recursive: true });

  const setting = settingOf(words, program.version);
  const progress = batchProgress(process.stderr, !words.quiet, places.length);
  const entries = new Map<string, BatchEntry>();
  let keptCount = 0;
  const take = async (place: Place, result: PhotoResult, kept: boolean): Promise<void> => {
    const hasFolder = folder !== null && result.entry.outcome === 'measured';
    const entry = { photo: place.photo, folder: hasFolder ? place.name : null, ...result.entry };
    entries.set(place.photo, entry);
    if (kept) keptCount++;
    progress.done(place.photo, entry.outcome === 'failed', kept);
    if (words.json) await print(jsonLine(entry, result.model));
  };

  const tasks: { place: Place; task: PhotoTask }[] = [];
  for (const place of places) {
    const target = folder === null ? null : join(folder, place.name);
    const kept = target === null ? null : await readBatchRecord(target, setting, place.photo);
    if (kept !== null && target !== null) {
      const model = words.json && kept.outcome === 'measured' ? await readModelOf(target) : null;
      await take(place, { entry: kept, model }, true);
      continue;
    }
    const wantsModel = words.json === true;
    tasks.push({ place, task: { photo: place.photo, folder: target, words, setting, wantsModel } });
  }
  // The same command again, however it was started.
  const pool = new ProcessPool({ processes, program: process.argv[1], words: program.serveWords });
  await untilInterrupted(
    pool,
    progress,
    () => `${entries.size} of ${places.length}`,
    () =>
      pool.run(
        tasks.map((one) => one.task),
        (index, result) => take(tasks[index].place, result, false),
      ),
  );
  progress.end();

  const inOrder = places.map((place) => entries.get(place.photo) as BatchEntry);
  const indexName = shard ? `index-${shard.part}-of-${shard.of}` : 'index';
  const index = folder === null ? null : await writeBatchIndex(folder, indexName, inOrder, words.units);
  const failures = inOrder.filter((entry) => entry.outcome === 'failed');
  if (!words.json && !words.quiet) {
    const before = keptCount > 0 ? ` (${keptCount} were done before)` : '';
    const counts = `${inOrder.length - failures.length} of ${inOrder.length} photos measured${before}`;
    await print(`${counts}\nIn ${oneLine(folder ?? '.')}: look at ${index?.[1]} first\n`);
  }
  for (const { photo, failure } of failures)
    complain(`${photo}: ${failure === null ? '' : withOptions(failure)}`);
  return failures.length > 0 ? SOME_FAILED : 0;
}

/** Every photo once, whatever it is called by, with the name of its folder. */
async function placesOf(photos: readonly string[]): Promise<Place[]> {
  const seen = new Set<string>();
  const once: string[] = [];
  for (const photo of photos) {
    const file = await realpath(photo).catch(() => resolve(photo));
    if (!seen.has(file)) once.push(photo);
    seen.add(file);
  }
  const names = folderNames(once);
  return once.map((photo, k) => ({ photo, name: names[k] }));
}

/** Options that change what is written; the others may differ between runs. */
function settingOf(words: BatchWords, version: string): BatchSetting {
  const { out, shard, json, quiet, jobs, memory, ...options } = words;
  return { program: version, options };
}

const readModelOf = async (folder: string): Promise<BandModel> =>
  JSON.parse(await readFile(join(folder, 'bands.json'), 'utf8'));

/** For programs: one line a photo, in the order in which they are done. */
function jsonLine({ photo, folder, outcome, failure, sha256 }: BatchEntry, model: BandModel | null): string {
  return `${JSON.stringify({ photo, outcome, folder, sha256, failure, model })}\n`;
}

/** Runs the work; on an interrupt ends its processes, says what was done, and ends by the signal itself. */
async function untilInterrupted(
  pool: ProcessPool,
  progress: BatchProgress,
  doneWords: () => string,
  work: () => Promise<void>,
): Promise<void> {
  let interrupt: (signal: NodeJS.Signals) => void = () => {};
  const interrupted = new Promise<NodeJS.Signals>((done) => {
    interrupt = done;
  });
  for (const signal of SIGNALS) process.on(signal, interrupt);
  const signal = await Promise.race([work(), interrupted]);
  if (signal !== undefined) {
    await pool.stop();
    progress.end();
    complain(
      `Interrupted: at least ${doneWords()} photos done and kept; the same command goes on from there`,
    );
  }
  for (const one of SIGNALS) process.off(one, interrupt);
  if (signal === undefined) return;
  process.kill(process.pid, signal);
  process.exit(128 + constants.signals[signal]);
}
