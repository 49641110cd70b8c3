import type { WriteStream } from 'node:tty';
import type { Stage } from '../node.js';

/** What a person reads while a stage runs. */
const WORDS: Readonly<Record<Stage, string>> = {
  reading: 'reading the photo',
  reference: 'finding the scale',
  stripes: 'finding the stripes',
  edges: 'measuring the edges',
  plane: 'taking out the tilt',
  repeat: 'finding the repeat',
  pictures: 'making the pictures',
  writing: 'writing the results',
};

export interface Progress {
  readonly begin: (stage: Stage) => void;
  /** Clears the line; may be called again. */
  readonly end: () => void;
}

/** One line on a terminal, rewritten at each stage; nothing at all elsewhere. */
export function stageProgress(stream: Pick<WriteStream, 'isTTY' | 'write'>, wanted: boolean): Progress {
  const { begin, end } = progressLine(stream, wanted);
  return { begin: (stage) => begin(WORDS[stage]), end };
}

export interface ProgressLine {
  readonly begin: (words: string) => void;
  readonly end: () => void;
}

/** The same in any words. */
export function progressLine(stream: Pick<WriteStream, 'isTTY' | 'write'>, wanted: boolean): ProgressLine {
  if (!wanted || !stream.isTTY) return { begin: () => {}, end: () => {} };
  let shown = false;
  return {
    begin: (words) => {
      shown = true;
      stream.write(`\r\x1b[K${words} ...`);
    },
    end: () => {
      if (shown) stream.write('\r\x1b[K');
      shown = false;
    },
  };
}

/** Shows the words while the work lasts, however it ends: what went wrong is told on a line of its own. */
export async function during<T>(
  { begin, end }: ProgressLine,
  words: string,
  work: () => T | Promise<T>,
): Promise<T> {
  begin(words);
  try {
    return await work();
  } finally {
    end();
  }
}
