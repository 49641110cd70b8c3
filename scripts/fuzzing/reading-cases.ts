import { type ChildProcess, fork } from 'node:child_process';
import { fileURLToPath } from 'node:url';
import type { Verdicts } from './verdicts.js';

export interface FileCase {
  readonly what: string;
  readonly path: string;
}

const PROGRAM = fileURLToPath(new URL('./reading-process.ts', import.meta.url));
const LIMIT_MS = 60_000;
/** A file of 100 megapixels with 16 bits and alpha is 800 MB unpacked; sharp shrinks as it goes, and holds no such thing. */
export const MOST_MB = 1500;

interface Reply {
  readonly outcome: string;
  readonly peakMb: number;
}

/** Reads every file in a process that must survive it: read or refused, never thrown or dead. */
export async function runReadingCases(cases: readonly FileCase[], verdicts: Verdicts): Promise<void> {
  let next = 0;
  const lane = async (): Promise<void> => {
    let child: ChildProcess | null = null;
    while (next < cases.length) {
      const { what, path } = cases[next++];
      child ??= fork(PROGRAM, [], { stdio: ['ignore', 'ignore', 'ignore', 'ipc'] });
      const reply = await ask(child, path);
      const wrong =
        typeof reply === 'string'
          ? reply
          : reply.outcome.startsWith('threw')
            ? reply.outcome
            : reply.peakMb > MOST_MB
              ? `${reply.peakMb.toFixed(0)} MB of memory`
              : null;
      const ending = typeof reply === 'string' ? 'lost' : reply.outcome;
      verdicts.add('reading', ending, what, wrong, typeof reply === 'string' ? null : reply.peakMb);
      if (wrong !== null) {
        child.kill('SIGKILL');
        child = null;
      }
    }
    child?.kill('SIGKILL');
  };
  await Promise.all([lane(), lane()]);
}

function ask(child: ChildProcess, path: string): Promise<Reply | string> {
  return new Promise((done) => {
    const settle = (reply: Reply | string): void => {
      clearTimeout(timer);
      child.removeAllListeners();
      done(reply);
    };
    const timer = setTimeout(() => settle(`no end within ${LIMIT_MS / 1000} s`), LIMIT_MS);
    child.once('message', (reply: Reply) => settle(reply));
    child.once('exit', (code, signal) => settle(`the process ended (${signal ?? code})`));
    child.send(path);
  });
}
