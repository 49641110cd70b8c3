import { type NoFit, overlapAt } from '../nofit/no-fit.js';
import type { Compiled, CompiledChoice } from './compiled.js';
import type { Place } from './fit-problem.js';

/**
 * Places of all items, which may overlap while they are looked for, and what each overlap counts. Tables have a row for each item and a column
 * for each item and, after those, each block.
 */
export interface Search {
  readonly compiled: Compiled;
  readonly items: number;
  readonly columns: number;
  readonly bin: Int32Array;
  readonly choice: Int32Array;
  readonly across: Float64Array;
  readonly slide: Float64Array;
  /** The ring that lies there, by item; blocks after the items. */
  readonly ring: Int32Array;
  /** How far along each bin items may reach. */
  readonly reach: Float64Array;
  /** How deep each pair overlaps. */
  readonly depth: Float64Array;
  /** What a mm of it counts. */
  readonly weight: Float64Array;
  /** A number in [0, 1), the same for a seed. */
  readonly random: () => number;
}

export function newSearch(compiled: Compiled, random: () => number): Search {
  const items = compiled.problem.items.length;
  const blocks = compiled.blocks.flatMap((rings, bin) => rings.map((ring) => ({ ring, bin })));
  const columns = items + blocks.length;
  const search: Search = {
    compiled,
    items,
    columns,
    bin: new Int32Array(columns),
    choice: new Int32Array(columns),
    across: new Float64Array(columns),
    slide: new Float64Array(columns),
    ring: new Int32Array(columns),
    reach: Float64Array.from(compiled.problem.bins, ({ room, along }) => room[along === 'across' ? 1 : 3]),
    depth: new Float64Array(items * columns),
    weight: new Float64Array(items * columns).fill(1),
    random,
  };
  blocks.forEach(({ ring, bin }, k) => {
    search.bin[items + k] = bin;
    search.ring[items + k] = ring;
  });
  return search;
}

export const choiceOf = ({ compiled, bin, choice }: Search, item: number): CompiledChoice =>
  compiled.choices[item][bin[item]][choice[item]];

/** Puts an item somewhere, and says so in the tables. */
export function put(search: Search, item: number, place: Place): void {
  search.bin[item] = place.bin;
  search.choice[item] = place.choice;
  search.across[item] = place.across;
  search.slide[item] = place.slide;
  search.ring[item] = choiceOf(search, item).ring;
  tellDepths(search, item);
}

function tellDepths(search: Search, item: number): void {
  const { items, columns, depth, bin, across, slide, ring } = search;
  for (let other = 0; other < columns; other++) {
    let deep = 0;
    if (other !== item && bin[other] === bin[item]) {
      const noFit = search.compiled.noFitOf(ring[other], ring[item]);
      deep = overlapAt(noFit, across[item] - across[other], slide[item] - slide[other]);
    }
    depth[item * columns + other] = deep;
    if (other < items) depth[other * columns + item] = deep;
  }
}

export const placeOf = ({ bin, choice, across, slide }: Search, item: number): Place => ({
  bin: bin[item],
  choice: choice[item],
  across: across[item],
  slide: slide[item],
});

export const placesOf = (search: Search): Place[] =>
  Array.from({ length: search.items }, (_, item) => placeOf(search, item));

/** Sum of all depths, each pair once. */
export function totalDepth({ items, columns, depth }: Search): number {
  let sum = 0;
  for (let item = 0; item < items; item++)
    for (let other = item + 1; other < columns; other++) sum += depth[item * columns + other];
  return sum;
}

/** What an item's overlaps count together. */
export function costOf({ columns, depth, weight }: Search, item: number): number {
  let sum = 0;
  for (let k = item * columns; k < (item + 1) * columns; k++) sum += weight[k] * depth[k];
  return sum;
}

/** What they would count with the item elsewhere; once it is clear that it is not below the bound, any number not below. */
export function costAt(
  search: Search,
  item: number,
  place: Place,
  movingRing: number,
  below: number,
): number {
  const { columns, bin, across, slide, ring, weight, compiled } = search;
  let sum = 0;
  for (let other = 0; other < columns; other++) {
    if (other === item || bin[other] !== place.bin) continue;
    const noFit: NoFit = compiled.noFitOf(ring[other], movingRing);
    const x = place.across - across[other];
    const y = place.slide - slide[other];
    const { box } = noFit;
    if (x <= box[0] || x >= box[1] || y <= box[2] || y >= box[3]) continue;
    sum += weight[item * columns + other] * overlapAt(noFit, x, y);
    if (sum >= below) return sum;
  }
  return sum;
}

/** Greatest shift along the bin's length that keeps an item within what may be used. */
export function farthestShift(search: Search, bin: number, choice: CompiledChoice): number {
  const high = choice.bounds[search.compiled.alongAxis[bin] === 0 ? 1 : 3];
  return Math.min(high, search.reach[bin] - choice.reachMm);
}
