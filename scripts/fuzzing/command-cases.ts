import { readdir, readFile, rm } from 'node:fs/promises';
import { join } from 'node:path';
import { readCsv } from '../../test/support/read-csv.js';
import { type FileCase, MOST_MB } from './reading-cases.js';
import { endingOf, endingWrong, leftWrong, runCommand } from './run-command.js';
import type { Verdicts } from './verdicts.js';

/** Gives each file to the whole command, two at a time. */
export async function runCommandCases(
  cases: readonly FileCase[],
  scratch: string,
  verdicts: Verdicts,
): Promise<void> {
  let next = 0;
  const lane = async (_: unknown, index: number): Promise<void> => {
    while (next < cases.length) {
      const { what, path } = cases[next++];
      const folder = join(scratch, `single-${index}`, 'result');
      await rm(folder, { recursive: true, force: true });
      const run = await runCommand(['--out', folder, '--', path], join(scratch, `memory-${index}`));
      const wrong =
        endingWrong(run) ??
        (await leftWrong(folder, run.code === 0)) ??
        (run.peakMb !== null && run.peakMb > MOST_MB ? `${run.peakMb.toFixed(0)} MB of memory` : null);
      verdicts.add('command', endingOf(run), what, wrong, run.peakMb);
    }
  };
  await Promise.all([0, 1].map((index) => lane(null, index)));
}

/** Gives files to the whole command in lots, as many photos at once: every one has to be in the index, and none to stop the rest. */
export async function runBatchCases(
  cases: readonly FileCase[],
  lot: number,
  scratch: string,
  verdicts: Verdicts,
): Promise<void> {
  const folder = join(scratch, 'batch');
  for (let from = 0; from < cases.length; from += lot) {
    const some = cases.slice(from, from + lot);
    await rm(folder, { recursive: true, force: true });
    const run = await runCommand(
      ['--out', folder, '--jobs', '2', '--', ...some.map((one) => one.path)],
      null,
    );
    const [heading, ...rows] = readCsv(await readFile(join(folder, 'index.csv'), 'utf8').catch(() => ''));
    const column = (row: string[], name: string): string => row[heading.indexOf(name)];
    const known = new Map(rows.map((row) => [column(row, 'photo').replace(/^'/, ''), row]));
    const wrongWhole =
      run.isLate || run.signal !== null || (run.code !== 0 && run.code !== 1)
        ? `ended with ${endingOf(run)}, ${JSON.stringify(run.err.slice(0, 300))}`
        : ((await draftIn(folder)) ?? null);
    for (const [k, { what, path }] of some.entries()) {
      const row = known.get(path);
      const reason = row ? column(row, 'reason') || 'measured' : 'not in the index';
      const bad = row === undefined || reason === 'program-failed' || reason === 'too-long';
      const wrong = bad ? `${reason} ${row ? column(row, 'message') : ''}` : k === 0 ? wrongWhole : null;
      verdicts.add('batch', reason, what, wrong);
    }
  }
}

/** A draft left anywhere, or a photo's folder that is not whole. */
async function draftIn(folder: string): Promise<string | null> {
  for (const name of await readdir(folder)) {
    if (name.startsWith('.')) return `left ${name}`;
    if (name.startsWith('index.')) continue;
    const files = await readdir(join(folder, name));
    if (!files.includes('batch.json')) return `${JSON.stringify(name)} has no record`;
    if (files.some((file) => file.startsWith('.'))) return `left a draft in ${JSON.stringify(name)}`;
  }
  return null;
}
