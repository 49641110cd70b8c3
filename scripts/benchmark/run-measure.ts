import { spawn } from 'node:child_process';
import { existsSync } from 'node:fs';
import { mkdtemp, readFile, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import type { BandModel } from '../../src/core/model/band-model.js';

const COMMAND = fileURLToPath(new URL('../../dist/cli/main.js', import.meta.url));
const GNU_TIME = '/usr/bin/time';

export interface MeasureRun {
  readonly exitCode: number;
  /** Null when the photo was refused. */
  readonly model: BandModel | null;
  readonly seconds: number;
  /** Largest resident set, or null where the system cannot tell. */
  readonly peakMb: number | null;
  /** What was said on the error stream. */
  readonly said: string;
}

export const commandIsBuilt = (): boolean => existsSync(COMMAND);

/** Runs the real command as a process of its own. */
export async function runMeasure(
  photo: string,
  flags: readonly string[],
  command = COMMAND,
): Promise<MeasureRun> {
  const scratch = await mkdtemp(join(tmpdir(), 'stripewright-bench-'));
  const memoryFile = join(scratch, 'peak');
  const measure = [
    process.execPath,
    command,
    'measure',
    photo,
    '--out',
    join(scratch, 'out'),
    '--json',
    '--quiet',
  ];
  const timed = existsSync(GNU_TIME) ? [GNU_TIME, '-q', '-f', '%M', '-o', memoryFile, ...measure] : measure;
  const [program, ...args] = [...timed, ...flags];
  try {
    const started = performance.now();
    const { exitCode, out, said } = await finished(program, args);
    const seconds = (performance.now() - started) / 1000;
    const peak = existsSync(memoryFile)
      ? Number.parseInt(await readFile(memoryFile, 'utf8'), 10)
      : Number.NaN;
    return {
      exitCode,
      model: exitCode === 0 ? (JSON.parse(out) as BandModel) : null,
      seconds,
      peakMb: Number.isFinite(peak) ? peak / 1024 : null,
      said: said.trim(),
    };
  } finally {
    await rm(scratch, { recursive: true, force: true });
  }
}

function finished(
  program: string,
  args: readonly string[],
): Promise<{ exitCode: number; out: string; said: string }> {
  return new Promise((resolve, reject) => {
    const child = spawn(program, args, { stdio: ['ignore', 'pipe', 'pipe'] });
    const out: Buffer[] = [];
    const said: Buffer[] = [];
    child.stdout.on('data', (chunk: Buffer) => out.push(chunk));
    child.stderr.on('data', (chunk: Buffer) => said.push(chunk));
    child.on('error', reject);
    child.on('close', (code) =>
      resolve({
        exitCode: code ?? -1,
        out: Buffer.concat(out).toString('utf8'),
        said: Buffer.concat(said).toString('utf8'),
      }),
    );
  });
}
