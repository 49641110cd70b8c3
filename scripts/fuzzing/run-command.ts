import { type ChildProcess, spawn } from 'node:child_process';
import { existsSync } from 'node:fs';
import { readdir, readFile, rm, stat } from 'node:fs/promises';
import { basename, dirname, join } from 'node:path';
import { fileURLToPath } from 'node:url';

const COMMAND = fileURLToPath(new URL('../../dist/cli/main.js', import.meta.url));
const GNU_TIME = '/usr/bin/time';
export const LIMIT_MS = 180_000;

export interface Run {
  readonly code: number | null;
  readonly signal: NodeJS.Signals | null;
  readonly out: string;
  readonly err: string;
  readonly isLate: boolean;
  /** Largest resident set, or null where it cannot be told. */
  readonly peakMb: number | null;
}

/**
 * The built command with a time limit. `measured`: under GNU time, for its memory; not for runs that get signals, which would go to
 * that program.
 */
export async function runCommand(
  words: readonly string[],
  memoryFile: string | null,
  onStart?: (child: ChildProcess) => void,
): Promise<Run> {
  const node = [process.execPath, COMMAND, 'measure', ...words];
  const timed = memoryFile !== null && existsSync(GNU_TIME);
  const [program, ...rest] = timed ? [GNU_TIME, '-q', '-f', '%M', '-o', memoryFile, ...node] : node;
  const run = await new Promise<Omit<Run, 'peakMb'>>((done, fail) => {
    const child = spawn(program, rest, { stdio: ['ignore', 'pipe', 'pipe'] });
    let out = '';
    let err = '';
    let isLate = false;
    const timer = setTimeout(() => {
      isLate = true;
      child.kill('SIGKILL');
    }, LIMIT_MS);
    child.stdout.on('data', (data: Buffer) => {
      out += data;
    });
    child.stderr.on('data', (data: Buffer) => {
      err += data;
    });
    child.on('error', fail);
    child.on('close', (code, signal) => {
      clearTimeout(timer);
      done({ code, signal, out, err, isLate });
    });
    onStart?.(child);
  });
  const peak = timed ? Number.parseInt(await readFile(memoryFile, 'utf8').catch(() => ''), 10) : Number.NaN;
  if (timed) await rm(memoryFile, { force: true });
  return { ...run, peakMb: Number.isFinite(peak) ? peak / 1024 : null };
}

const REQUIRED = ['bands.csv', 'bands.json', 'cloth.png', 'overlay.png', 'report.html'];

/** What is wrong with what a run left at `folder`, or null: all of a result or nothing, and no draft beside or in it. */
export async function leftWrong(folder: string, isMeasured: boolean): Promise<string | null> {
  const beside = await readdir(dirname(folder)).catch(() => []);
  const draft = beside.find((name) => name.startsWith(`.${basename(folder)}-`));
  if (draft !== undefined) return `left the draft ${draft}`;
  const names = await readdir(folder).catch(() => null);
  if (names === null) return isMeasured ? 'no folder' : null;
  if (!isMeasured) return names.length === 0 ? 'left an empty folder' : `left ${names.join(', ')}`;
  const missing = REQUIRED.filter((name) => !names.includes(name));
  if (missing.length > 0) return `without ${missing.join(', ')}`;
  for (const name of names) {
    if ((await stat(join(folder, name))).size === 0) return `${name} is empty`;
  }
  return null;
}

/** What is wrong with how a run of one photo ended, or null. */
export function endingWrong({ code, signal, out, err, isLate }: Run): string | null {
  if (isLate) return `no end within ${LIMIT_MS / 1000} s`;
  if (signal !== null) return `ended by ${signal}`;
  if (code === null || code > 6) return `exit code ${code}`;
  if (code === 0) return err === '' ? null : `said ${JSON.stringify(err)}`;
  if (out !== '') return `printed ${JSON.stringify(out)} with exit code ${code}`;
  if (!/^[^\n]+\n$/.test(err)) return `not one line: ${JSON.stringify(err)}`;
  return /program failed/.test(err) ? `said ${JSON.stringify(err)}` : null;
}

export const endingOf = ({ code, signal }: Run): string => signal ?? `exit ${code}`;
