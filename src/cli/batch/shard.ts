import { UsageError } from '../../node.js';

/** One part of a list that is spread over several machines: the number `of` parts, and which one, from 1. */
export interface Shard {
  readonly part: number;
  readonly of: number;
}

/** Reads `2/4`. Throws UsageError for anything that is no part of a whole. */
export function parseShard(text: string): Shard {
  const [, part, of] = /^(\d{1,6})\/(\d{1,6})$/.exec(text) ?? [];
  const shard = { part: Number(part), of: Number(of) };
  if (part === undefined || shard.part < 1 || shard.part > shard.of) {
    throw new UsageError(`--shard: expected a part and how many there are, such as 2/4, received "${text}"`);
  }
  return shard;
}

/**
 * The part of a list: every n-th, in the order of their names and not of the list, since two machines may list a folder
 * differently. All parts together are the list, and no two share an item.
 */
export function partOf<T>(items: readonly T[], nameOf: (item: T) => string, { part, of }: Shard): T[] {
  const byName = [...items].sort((a, b) => (nameOf(a) < nameOf(b) ? -1 : 1));
  return byName.filter((_, k) => k % of === part - 1);
}
