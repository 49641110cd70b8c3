import { type ChildProcess, spawn } from 'node:child_process';
import { readdirSync, statSync } from 'node:fs';
import { createRequire } from 'node:module';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';

const inProject = (path: string): string => fileURLToPath(new URL(`../../${path}`, import.meta.url));

/** The command as built where that is up to date, which is how it is installed; else straight from its source. */
export const COMMAND: readonly string[] = isBuilt()
  ? [inProject('dist/cli/main.js')]
  : ['--import', `file://${createRequire(import.meta.url).resolve('tsx')}`, inProject('src/cli/main.ts')];

function isBuilt(): boolean {
  const built = statSync(inProject('dist/cli/main.js'), { throwIfNoEntry: false })?.mtimeMs ?? 0;
  return readdirSync(inProject('src'), { recursive: true, encoding: 'utf8' }).every(
    (path) => statSync(join(inProject('src'), path)).mtimeMs < built,
  );
}

/** No run of a test takes this long; one that does hangs, and is ended. */
const LIMIT_MS = 60_000;

export interface CommandRun {
  /** Exit code; null when a signal ended it. */
  readonly code: number | null;
  readonly signal: NodeJS.Signals | null;
  readonly out: string;
  readonly err: string;
}

/** The real command as a process of its own, with a time limit. `onStart` gets the process, to interrupt it say. */
export function runCommand(
  cwd: string,
  words: readonly string[],
  onStart?: (child: ChildProcess) => void,
): Promise<CommandRun> {
  return new Promise((done, fail) => {
    const child = spawn(process.execPath, [...COMMAND, ...words], { cwd, stdio: ['ignore', 'pipe', 'pipe'] });
    const said = { out: '', err: '' };
    const limit = setTimeout(() => {
      child.kill('SIGKILL');
      fail(new Error(`no end within ${LIMIT_MS / 1000} s: ${words.join(' ')}\n${said.out}${said.err}`));
    }, LIMIT_MS);
    child.stdout.setEncoding('utf8').on('data', (text: string) => {
      said.out += text;
    });
    child.stderr.setEncoding('utf8').on('data', (text: string) => {
      said.err += text;
    });
    child.on('error', fail);
    child.on('close', (code, signal) => {
      clearTimeout(limit);
      done({ code, signal, ...said });
    });
    onStart?.(child);
  });
}
