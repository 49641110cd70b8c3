import { availableParallelism, freemem, totalmem } from 'node:os';
import { UsageError } from '../../node.js';

/** What one process takes at most for a photo of 48 megapixels, MB. */
export const PROCESS_MB = 500;
/** Share of the memory free now that is taken when nothing is said. */
const SHARE = 0.7;
const MB = 2 ** 20;

export interface ProcessWords {
  /** How many photos at once. */
  readonly jobs?: string;
  /** MB for all of them together. */
  readonly memory?: string;
}

/** How many photos to measure at once: as many as there are cores, and as fit into the memory; at least one. */
export function processCount(
  words: ProcessWords,
  cores: number = availableParallelism(),
  freeMb: number = freeMemoryMb(),
): number {
  const jobs = words.jobs === undefined ? cores : wholeNumber(words.jobs, '--jobs', 1, 256);
  const budgetMb =
    words.memory === undefined ? SHARE * freeMb : wholeNumber(words.memory, '--memory', PROCESS_MB, 1e7);
  // A number asked for is taken, unless memory is given as well.
  if (words.jobs !== undefined && words.memory === undefined) return jobs;
  return Math.max(1, Math.min(jobs, Math.floor(budgetMb / PROCESS_MB)));
}

function wholeNumber(text: string, option: string, least: number, most: number): number {
  const value = /^\d+$/.test(text) ? Number(text) : Number.NaN;
  if (!(value >= least && value <= most)) {
    throw new UsageError(`${option}: expected a whole number from ${least} to ${most}, received "${text}"`);
  }
  return value;
}

/** Of the machine, or of the part of it that this program was given, whichever is less. */
function freeMemoryMb(): number {
  const limit = process.constrainedMemory();
  // What macOS calls free leaves out the caches that it would give back, which is most of it.
  const free = process.platform === 'darwin' ? totalmem() / 2 : freemem();
  return (limit > 0 && limit < free ? limit : free) / MB;
}
