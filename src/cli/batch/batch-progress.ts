import { basename } from 'node:path';
import type { WriteStream } from 'node:tty';
import { oneLine } from '../print.js';

export interface BatchProgress {
  /** A photo is done; `kept` when an earlier run did it. */
  readonly done: (photo: string, failed: boolean, kept: boolean) => void;
  /** Clears the line; may be called again. */
  readonly end: () => void;
}

/** One line on a terminal, rewritten as photos are done; nothing at all elsewhere. `now`: a clock in ms. */
export function batchProgress(
  stream: Pick<WriteStream, 'isTTY' | 'write'> & { readonly columns?: number },
  wanted: boolean,
  total: number,
  now: () => number = () => performance.now(),
): BatchProgress {
  if (!wanted || !stream.isTTY) return { done: () => {}, end: () => {} };
  let shown = false;
  let done = 0;
  let failures = 0;
  let fresh = 0;
  const started = now();
  return {
    done: (photo, failed, kept) => {
      done++;
      if (failed) failures++;
      if (!kept) fresh++;
      const left = fresh > 0 ? ((now() - started) / fresh) * (total - done) : null;
      const words = [
        `${done} of ${total}`,
        failures > 0 ? `${failures} failed` : '',
        left === null || done === total ? '' : `about ${timeWords(left)} left`,
        oneLine(basename(photo)),
      ].filter((text) => text !== '');
      // A line that wraps could not be rewritten.
      stream.write(`\r\x1b[K${words.join(', ').slice(0, (stream.columns ?? 80) - 1)}`);
      shown = true;
    },
    end: () => {
      if (shown) stream.write('\r\x1b[K');
      shown = false;
    },
  };
}

function timeWords(ms: number): string {
  const seconds = Math.ceil(ms / 1000);
  if (seconds < 90) return `${seconds} s`;
  const minutes = Math.round(seconds / 60);
  return minutes < 90 ? `${minutes} min` : `${(minutes / 60).toFixed(1)} h`;
}
