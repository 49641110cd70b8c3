import { spawn } from 'node:child_process';
import { existsSync } from 'node:fs';
import { mkdtemp, readFile, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';

const GNU_TIME = '/usr/bin/time';

export interface TimedProcess {
  readonly exitCode: number;
  readonly out: string;
  /** What was said on the error stream. */
  readonly said: string;
  readonly seconds: number;
  /** Processor time of it and its children, or null where the system cannot tell: other people's load shows less in it. */
  readonly cpuSeconds: number | null;
  /** Largest resident set, or null likewise. */
  readonly peakMb: number | null;
}

/** Runs Node with a script and its arguments as a process of its own. */
export async function timedProcess(script: readonly string[]): Promise<TimedProcess> {
  const scratch = await mkdtemp(join(tmpdir(), 'stripewright-time-'));
  const usageFile = join(scratch, 'usage');
  const plain = [process.execPath, ...script];
  const [program, ...args] = existsSync(GNU_TIME)
    ? [GNU_TIME, '-q', '-f', '%M %U %S', '-o', usageFile, ...plain]
    : plain;
  try {
    const started = performance.now();
    const ended = await finished(program, args);
    const seconds = (performance.now() - started) / 1000;
    const usage = existsSync(usageFile)
      ? (await readFile(usageFile, 'utf8')).trim().split(' ').map(Number)
      : [];
    const [peakKb, user, system] = usage;
    return {
      ...ended,
      seconds,
      peakMb: Number.isFinite(peakKb) ? peakKb / 1024 : null,
      cpuSeconds: Number.isFinite(user) ? user + system : null,
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
