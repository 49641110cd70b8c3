import { describe, expect, it } from 'vitest';
import { parseShard, partOf } from '../../../src/cli/batch/shard.js';
import { UsageError } from '../../../src/index.js';

describe('a shard', () => {
  const photos = Array.from({ length: 23 }, (_, k) => `ticking-${k}.jpg`);

  it.each([1, 2, 3, 7, 40])('of %i: the parts are the whole, share nothing, and are even', (of) => {
    const parts = Array.from({ length: of }, (_, k) => partOf(photos, (name) => name, { part: k + 1, of }));
    expect(parts.flat().sort()).toEqual([...photos].sort());
    const sizes = parts.map((part) => part.length);
    expect(Math.max(...sizes) - Math.min(...sizes)).toBeLessThanOrEqual(1);
  });

  it('is the same in whatever order a machine lists its folder', () => {
    const shard = { part: 2, of: 3 };
    const turned = partOf([...photos].reverse(), (name) => name, shard);
    expect(turned).toEqual(partOf(photos, (name) => name, shard));
  });

  it.each(['0/2', '3/2', '2', '1/0', 'a/b', '1/2/3', '-1/2', '1.5/2', ''])('refuses "%s"', (text) => {
    expect(() => parseShard(text)).toThrow(UsageError);
    expect(() => parseShard(text)).toThrow(/--shard: expected .* received/);
  });
});
