import { existsSync } from 'node:fs';
import { mkdtemp, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import type { BandModel } from '../../src/core/model/band-model.js';
import { type TimedProcess, timedProcess } from './timed-process.js';

const COMMAND = fileURLToPath(new URL('../../dist/cli/main.js', import.meta.url));

export interface MeasureRun extends Pick<TimedProcess, 'exitCode' | 'seconds' | 'peakMb' | 'said'> {
  /** Null when the photo was refused. */
  readonly model: BandModel | null;
  readonly cpuSeconds?: number | null;
}

export const commandIsBuilt = (): boolean => existsSync(COMMAND);

/** Runs the real command as a process of its own, all its files written. */
export async function runMeasure(
  photo: string,
  flags: readonly string[],
  command = COMMAND,
): Promise<MeasureRun> {
  const scratch = await mkdtemp(join(tmpdir(), 'stripewright-bench-'));
  try {
    const { out, said, ...run } = await timedProcess([
      command,
      'measure',
      photo,
      '--out',
      join(scratch, 'out'),
      '--json',
      '--quiet',
      ...flags,
    ]);
    return { ...run, said: said.trim(), model: run.exitCode === 0 ? (JSON.parse(out) as BandModel) : null };
  } finally {
    await rm(scratch, { recursive: true, force: true });
  }
}
