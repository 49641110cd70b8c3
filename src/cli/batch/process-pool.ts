import { type ChildProcess, fork } from 'node:child_process';
import { setTimeout as delay } from 'node:timers/promises';
import { oneLine } from '../print.js';
import type { PhotoReply } from './photo-process.js';
import { failedEntry, type PhotoResult, type PhotoTask } from './photo-task.js';
import { PROCESS_MB } from './process-count.js';

/** No photo takes a tenth of this, even on a slow machine. */
const MOST_MS = 5 * 60_000;
/** How long a process may take to put its half-written files away when interrupted. */
const GRACE_MS = 5_000;

export interface PoolOptions {
  readonly processes: number;
  /** The program that serves photos, and its words. */
  readonly program: string;
  readonly words: readonly string[];
  readonly mostMs?: number;
}

/**
 * Measures photos in processes of their own, several at a time. A process serves many photos, since starting one and warming it
 * up costs about as much as a photo; one that dies, hangs or holds too much memory is replaced, and only its own photo fails.
 */
export class ProcessPool {
  private stopped = false;
  private readonly children = new Set<ChildProcess>();

  constructor(private readonly options: PoolOptions) {}

  /** Runs all tasks; results come in the order in which they are done. Resolves when all are, or after stop(). */
  async run(
    tasks: readonly PhotoTask[],
    onResult: (index: number, result: PhotoResult) => Promise<void> | void,
  ): Promise<void> {
    let next = 0;
    const lane = async (): Promise<void> => {
      let child: ChildProcess | null = null;
      while (!this.stopped && next < tasks.length) {
        const index = next++;
        child ??= this.start();
        const { result, isGood } = await this.ask(child, tasks[index]);
        if (this.stopped) break;
        if (!isGood) {
          child.kill('SIGKILL');
          child = null;
        }
        await onResult(index, result);
      }
      // Idle: all that it did is on disk. Not asked to end but ended, so that nothing can hold it.
      if (!this.stopped) child?.kill('SIGKILL');
    };
    const lanes = Math.min(this.options.processes, tasks.length);
    await Promise.all(Array.from({ length: lanes }, lane));
  }

  /** Ends all processes, each after putting its half-written files away. */
  async stop(): Promise<void> {
    this.stopped = true;
    const ended = [...this.children].map(
      (child) => new Promise<void>((done) => child.once('exit', () => done())),
    );
    for (const child of this.children) child.kill('SIGTERM');
    await Promise.race([Promise.all(ended), delay(GRACE_MS, undefined, { ref: false })]);
    for (const child of this.children) child.kill('SIGKILL');
  }

  private start(): ChildProcess {
    const child = fork(this.options.program, this.options.words, {
      stdio: ['ignore', 'ignore', 'ignore', 'ipc'],
    });
    this.children.add(child);
    child.once('exit', () => this.children.delete(child));
    return child;
  }

  private async ask(child: ChildProcess, task: PhotoTask): Promise<{ result: PhotoResult; isGood: boolean }> {
    const mostMs = this.options.mostMs ?? MOST_MS;
    const answer = await new Promise<PhotoReply | 'too-long' | { ended: string }>((done) => {
      const settle = (reply: PhotoReply | 'too-long' | { ended: string }): void => {
        clearTimeout(timer);
        child.off('message', settle).off('exit', onExit).off('error', onError);
        done(reply);
      };
      const onExit = (code: number | null, signal: NodeJS.Signals | null): void =>
        settle({ ended: signal ?? `exit code ${code}` });
      const onError = (error: Error): void => settle({ ended: error.message });
      const timer = setTimeout(() => settle('too-long'), mostMs);
      child.on('message', settle).on('exit', onExit).on('error', onError);
      child.send(task, (error) => {
        if (error) onError(error);
      });
    });
    if (answer === 'too-long') {
      const message = `The program gave no result within ${Math.round(mostMs / 60_000)} minutes: measure this photo alone to see why`;
      return { result: failed('too-long', message), isGood: false };
    }
    if ('ended' in answer) {
      // An interrupt reaches the processes first: then this is no fault of the photo.
      await delay(100);
      const message = `The program ended without a result (${oneLine(answer.ended)}): measure this photo alone to see why`;
      return { result: failed('program-failed', message), isGood: false };
    }
    const { heldBytes, ...result } = answer;
    return { result, isGood: heldBytes < PROCESS_MB * 2 ** 20 };
  }
}

const failed = (reason: 'too-long' | 'program-failed', message: string): PhotoResult => ({
  entry: failedEntry({ reason, message }),
  model: null,
});
