import { describe, expect, it } from 'vitest';
import { processCount } from '../../../src/cli/batch/process-count.js';
import { UsageError } from '../../../src/index.js';

describe('how many photos at once', () => {
  it.each([
    ['as many as cores where memory abounds', {}, 8, 64_000, 8],
    ['as many as fit into 70 % of what is free', {}, 8, 3_000, 4],
    ['one even where memory is short', {}, 8, 300, 1],
    ['as many as asked for', { jobs: '3' }, 2, 3_000, 3],
    ['as many as fit into the memory given', { memory: '1500' }, 8, 64_000, 3],
    ['not more than asked for', { memory: '9000', jobs: '2' }, 8, 64_000, 2],
    ['not more than fit', { memory: '1000', jobs: '6' }, 8, 64_000, 2],
  ])('%s', (_, words, cores, freeMb, expected) => {
    expect(processCount(words, cores, freeMb)).toBe(expected);
  });

  it.each([
    { jobs: '0' },
    { jobs: 'two' },
    { jobs: '-1' },
    { jobs: '1.5' },
    { memory: '100' },
    { memory: '' },
  ])('refuses %j', (words) => {
    expect(() => processCount(words, 2, 4000)).toThrow(UsageError);
  });
});
