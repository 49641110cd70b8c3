import { constants } from 'node:os';
import { complain } from '../print.js';
import type { BatchProgress } from './batch-progress.js';
import type { ProcessPool } from './process-pool.js';

const SIGNALS = ['SIGINT', 'SIGTERM', 'SIGHUP'] as const;

/** Runs the work; on an interrupt ends its processes, says what was done, and ends by the signal itself. */
export async function untilInterrupted(
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
