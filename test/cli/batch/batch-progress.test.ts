import { describe, expect, it } from 'vitest';
import { batchProgress } from '../../../src/cli/batch/batch-progress.js';

const recorder = (isTTY: boolean) => {
  const written: string[] = [];
  return {
    written,
    stream: { isTTY, columns: 60, write: (text: unknown) => written.push(String(text)) > 0 },
  };
};

describe('batchProgress', () => {
  it('rewrites one line with count, failures and time left', () => {
    const { written, stream } = recorder(true);
    let clock = 0;
    const progress = batchProgress(stream, true, 4, () => clock);
    clock = 2000;
    progress.done('a/ticking.jpg', false, false);
    clock = 4000;
    progress.done('a/shell\n.jpg', true, false);
    progress.end();
    progress.end();
    expect(written).toEqual([
      '\r\x1b[K1 of 4, about 6 s left, ticking.jpg',
      '\r\x1b[K2 of 4, 1 failed, about 4 s left, shell\\n.jpg',
      '\r\x1b[K',
    ]);
  });

  it('does not take what was done before for work of now', () => {
    const { written, stream } = recorder(true);
    const progress = batchProgress(stream, true, 3, () => 0);
    progress.done('ticking.jpg', false, true);
    expect(written[0]).not.toContain('left');
  });

  it('keeps to the width of the terminal', () => {
    const { written, stream } = recorder(true);
    batchProgress(stream, true, 2, () => 0).done(`${'x'.repeat(300)}.jpg`, false, false);
    expect(written[0].replace('\r\x1b[K', '').length).toBeLessThan(60);
  });

  it.each([
    [false, true],
    [true, false],
  ])('is silent when piped or told to be quiet', (isTTY, wanted) => {
    const { written, stream } = recorder(isTTY);
    const progress = batchProgress(stream, wanted, 2, () => 0);
    progress.done('ticking.jpg', false, false);
    progress.end();
    expect(written).toEqual([]);
  });
});
