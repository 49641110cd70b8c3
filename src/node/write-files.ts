import { copyFileSync, existsSync, linkSync, mkdirSync, mkdtempSync, renameSync, rmSync } from 'node:fs';
import { chmod, mkdir, realpath, rm, stat, writeFile } from 'node:fs/promises';
import { constants } from 'node:os';
import { basename, dirname, join, resolve } from 'node:path';
import {
  anyText,
  bytes,
  check,
  checkAll,
  eitherOf,
  listOf,
  plainly,
  record,
  text,
} from '../core/base/expectation.js';
import { UsageError } from '../index.js';

/** One file of a result: its name within the folder and its content. */
export interface ResultFile {
  readonly name: string;
  readonly content: Uint8Array | string;
}

/** Both seen from the result's folder; the place a file or folder moves to must be free, what lies above it is made. */
export interface Move {
  readonly from: string;
  readonly to: string;
}
const FILES = listOf(
  record({
    // What would lead out of the folder is no file of it.
    name: plainly('a file name without folders', (name) => typeof name === 'string' && isName(name)),
    content: eitherOf(anyText, bytes),
  }),
);

const MOVES = listOf(record({ from: text, to: text }));

const isName = (name: string): boolean => basename(name) === name && !['', '.', '..'].includes(name);

/**
 * Writes a result whole or not at all. Everything goes to a draft folder on the same disk first; a new folder then appears
 * under its name at once. In a folder that exists, files of the same names are replaced one by one in the order given,
 * so the last one tells that the rest is there; should that fail half-way, what was there before is put back. Files
 * of other names are never touched, but for `stale`: names of an earlier result that this one no longer has; and `aside`: what
 * is to lie elsewhere in the folder once the new result is there.
 * An interrupt removes the draft. Throws UsageError when the folder is a file, and the system's error when
 * nothing can be written there.
 */
export async function writeFiles(
  folder: string,
  files: readonly ResultFile[],
  stale: readonly string[] = [],
  aside: readonly Move[] = [],
): Promise<void> {
  checkAll({ files: [files, FILES], stale: [stale, listOf(text)], aside: [aside, MOVES] });
  const target = await resolvedFolder(folder);
  const isNew = !existsSync(target);
  if (isNew) await mkdir(dirname(target), { recursive: true });
  const { draft, stopWatching } = makeDraft(
    // Inside a folder that exists, since its parent may be another disk or closed to us.
    isNew ? join(dirname(target), `.${basename(target)}-`) : join(target, '.draft-'),
  );
  try {
    // A temporary folder is private; the result is as open as any other folder.
    if (isNew) await chmod(draft, 0o755);
    await Promise.all(files.map((file) => writeFile(join(draft, file.name), file.content)));
    const names = files.map((file) => file.name);
    const gone = stale.filter((name) => !names.includes(name) && basename(name) === name);
    // From here on without a pause: an interrupt is heard before or after, not between two files.
    if (isNew) renameSync(draft, target);
    else moveIn(draft, target, names, gone, aside);
  } finally {
    await rm(draft, { recursive: true, force: true });
    stopWatching();
  }
}

/** The folder itself where a link leads to it. Throws UsageError when it is a file. */
export async function resolvedFolder(folder: string): Promise<string> {
  check(folder, 'folder', text);
  const target = await realpath(folder).catch(() => resolve(folder));
  const facts = await stat(target).catch(() => null);
  if (facts !== null && !facts.isDirectory()) {
    throw new UsageError(`${folder} is a file: name a folder for the results`, null, ['out']);
  }
  return target;
}

function moveIn(
  draft: string,
  target: string,
  names: readonly string[],
  gone: readonly string[],
  aside: readonly Move[],
): void {
  const former = join(draft, 'former');
  mkdirSync(former);
  const undo: (() => void)[] = [];
  try {
    for (const { from, to } of aside) {
      const [here, there] = [join(target, from), join(target, to)];
      const made = mkdirSync(dirname(there), { recursive: true });
      if (made !== undefined) undo.push(() => rmSync(made, { recursive: true }));
      renameSync(here, there);
      undo.push(() => renameSync(there, here));
    }
    for (const name of [...names, ...gone]) {
      const place = join(target, name);
      const kept = join(former, name);
      if (existsSync(place)) {
        keepCopy(place, kept);
        undo.push(() => renameSync(kept, place));
      } else undo.push(() => rmSync(place, { force: true }));
      if (names.includes(name)) renameSync(join(draft, name), place);
      else rmSync(place, { force: true });
    }
  } catch (error) {
    for (const step of undo.reverse()) step();
    throw error;
  }
}

/** A second name for the same file where the disk allows it, else a copy; the first stays in place meanwhile. */
function keepCopy(from: string, to: string): void {
  try {
    linkSync(from, to);
  } catch {
    copyFileSync(from, to);
  }
}

const SIGNALS = ['SIGINT', 'SIGTERM', 'SIGHUP'] as const;

/** While files are being written to it. What will not go away keeps no program from ending by its signal. */
function removeDraft(draft: string): void {
  const doomed = `${draft}-gone`;
  for (let attempt = 0; attempt < 3; attempt++) {
    try {
      // Renamed first, so that files still waiting to be written find no folder and cannot land in it while it goes.
      if (existsSync(draft)) renameSync(draft, doomed);
      // A file that was being opened at that moment may still appear in it: then once more.
      rmSync(doomed, { recursive: true, force: true, maxRetries: 20, retryDelay: 10 });
      return;
    } catch {
      // Once more.
    }
  }
}

/** A folder that goes away on an interrupt, which then does what it would have done; and how to stop that. */
function makeDraft(prefix: string): { draft: string; stopWatching: () => void } {
  let draft: string | null = null;
  const onSignal = (signal: NodeJS.Signals): void => {
    if (draft !== null && existsSync(draft)) removeDraft(draft);
    stopWatching();
    if (process.listenerCount(signal) > 0) return;
    // Ends by the signal itself, which is how a shell's loop knows to stop too; should that be slow, by its number.
    process.kill(process.pid, signal);
    process.exit(128 + constants.signals[signal]);
  };
  const stopWatching = (): void => {
    for (const signal of SIGNALS) process.off(signal, onSignal);
  };
  // Before the folder is made: until someone listens, a signal ends the program on the spot.
  for (const signal of SIGNALS) process.on(signal, onSignal);
  try {
    draft = mkdtempSync(prefix);
  } catch (error) {
    stopWatching();
    throw error;
  }
  return { draft, stopWatching };
}
