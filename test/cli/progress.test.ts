import { describe, expect, it } from 'vitest';
import { during, progressLine, stageProgress } from '../../src/cli/progress.js';

const CLEAR = '\r\x1b[K';

const recorder = (isTTY: boolean) => {
  const written: string[] = [];
  const write = (text: unknown) => written.push(String(text)) > 0;
  return { written, stream: { isTTY, write } };
};

describe('stageProgress', () => {
  it('rewrites one line on a terminal and clears it once', () => {
    const { written, stream } = recorder(true);
    const progress = stageProgress(stream, true);
    progress.begin('reading');
    progress.begin('edges');
    progress.end();
    progress.end();
    expect(written).toHaveLength(3);
    for (const text of written) expect(text.startsWith(CLEAR)).toBe(true);
    expect(written.join('')).not.toContain('\n');
    expect(written[2]).toBe(CLEAR);
  });

  it('is silent when piped or when told to be quiet', () => {
    for (const [isTTY, wanted] of [
      [false, true],
      [true, false],
    ]) {
      const { written, stream } = recorder(isTTY);
      const progress = stageProgress(stream, wanted);
      progress.begin('reading');
      progress.end();
      expect(written).toEqual([]);
    }
  });
});

describe('during', () => {
  it('clears its words before what went wrong is told', async () => {
    const { written, stream } = recorder(true);
    const failing = during(progressLine(stream, true), 'drawing', () => {
      throw new Error('no ink');
    });
    await expect(failing).rejects.toThrow('no ink');
    expect(written).toEqual([`${CLEAR}drawing ...`, CLEAR]);
  });
});
