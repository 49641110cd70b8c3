import { type Compiled, reachOf } from './compiled.js';
import { anyPlace } from './fit-items.js';
import type { Place } from './fit-problem.js';
import { newSearch, placeOf, placesOf, put, type Search } from './search.js';
import { putBack, type Spend, separate } from './separate.js';
import { snappedPlace } from './snapped-place.js';

/** Parts by which a length is shortened: at first, and at least. After a failure it is the next smaller one that is tried. */
const FIRST_SHRINK = 0.03;
const LEAST_SHRINK = 0.0004;
const AFTER_FAILURE = 0.6;
const AFTER_SUCCESS = 1.15;

/** Of two items that change places each is among this part of all, the largest. */
const SWAPPED_PART = 0.5;

/** How far along a bin what lies in it reaches. */
export const usedOf = (compiled: Compiled, places: readonly (Place | null)[], bin: number): number =>
  places.reduce(
    (most, place, item) =>
      place === null || place.bin !== bin ? most : Math.max(most, reachOf(compiled, item, place)),
    0,
  );

export interface ShortenOptions {
  /** The one bin to be shortened, all others being free to be used; null: all of them. */
  readonly only?: number | null;
  /** Given each better lay. */
  readonly tell?: (places: readonly Place[]) => void;
}

/** How often one length is tried before a less short one. */
const TRIES = 5;

/** Failures in a row after which a bin is left as it is; with the least shrink nothing more is to be won. */
const GIVES_UP = 25;

/**
 * From places that do not overlap to ones that reach less far, as long as there is work to be spent. Bins are emptied where what lies in them finds room
 * elsewhere, last first; then each is shortened.
 */
export async function shorten(
  compiled: Compiled,
  start: readonly Place[],
  random: () => number,
  spend: Spend,
  { only = null, tell = () => {} }: ShortenOptions = {},
): Promise<readonly Place[]> {
  const search = newSearch(compiled, random);
  let best = only === null ? await emptied(search, start, spend) : start;
  const used = (): number[] => compiled.problem.bins.map((_, bin) => usedOf(compiled, best, bin));
  const open = compiled.problem.bins
    .map((_, k) => k)
    .filter((bin) => used()[bin] > 0 && (only ?? bin) === bin);
  const shrink = compiled.problem.bins.map(() => FIRST_SHRINK);
  const failures = compiled.problem.bins.map(() => 0);
  for (let turn = 0; open.length > 0 && (await spend()); turn++) {
    const bin = open[turn % open.length];
    // No other bin shall be used for more than it is.
    if (only === null) search.reach.set(used());
    else search.reach[bin] = used()[bin];
    search.reach[bin] *= 1 - shrink[bin];
    putBack(search, best);
    if (search.reach[bin] >= leastReach(search, bin) && (await reached(search, bin, spend))) {
      best = placesOf(search);
      tell(best);
      shrink[bin] = Math.min(FIRST_SHRINK, shrink[bin] * AFTER_SUCCESS);
      failures[bin] = 0;
      continue;
    }
    failures[bin]++;
    shrink[bin] = Math.max(LEAST_SHRINK, shrink[bin] * AFTER_FAILURE);
    if (failures[bin] > GIVES_UP) open.splice(open.indexOf(bin), 1);
  }
  return best;
}

/** Whether all items find room within what the bin may be used for: each failure is stirred, and tried again from there. */
async function reached(search: Search, bin: number, spend: Spend): Promise<boolean> {
  for (let go = 0; go < TRIES; go++) {
    if (go > 0) swapTwo(search);
    if (!pushIn(search, bin)) return false;
    if (await separate(search, spend)) return true;
    if (!(await spend())) return false;
  }
  return false;
}

/** No item of the bin reaches less far than this. */
function leastReach({ compiled, items, bin: bins }: Search, bin: number): number {
  let least = 0;
  for (let item = 0; item < items; item++) {
    if (bins[item] !== bin) continue;
    const own = compiled.choices[item][bin].map(
      ({ bounds, reachMm }) => bounds[compiled.alongAxis[bin] === 0 ? 0 : 2] + reachMm,
    );
    least = Math.max(least, Math.min(...own));
  }
  return least;
}

/** The same with bins emptied that need not be used, where there are several. */
async function emptied(search: Search, start: readonly Place[], spend: Spend): Promise<readonly Place[]> {
  const { compiled } = search;
  const { bins } = compiled.problem;
  const rooms = Float64Array.from(search.reach);
  let best = start;
  for (let bin = bins.length - 1; bin >= 0 && bins.length > 1; bin--) {
    const others = bins.map((_, k) => k).filter((k) => k !== bin && usedOf(compiled, best, k) > 0);
    if (usedOf(compiled, best, bin) === 0 || others.length === 0) continue;
    search.reach[bin] = -Infinity;
    const moved = best.map((place, item) => (place.bin === bin ? anyPlace(search, item, others) : place));
    if (moved.every((place) => place !== null)) {
      putBack(search, moved as Place[]);
      if (await separate(search, spend)) {
        // It stays closed.
        best = placesOf(search);
        continue;
      }
    }
    search.reach[bin] = rooms[bin];
  }
  search.reach.set(rooms);
  putBack(search, best);
  return best;
}

/** What reaches too far is put as far as it may; false where something can lie nowhere in what is left. */
function pushIn(search: Search, bin: number): boolean {
  for (let item = 0; item < search.items; item++) {
    if (
      search.bin[item] !== bin ||
      reachOf(search.compiled, item, placeOf(search, item)) <= search.reach[bin]
    )
      continue;
    const place = snappedPlace(search, item, placeOf(search, item));
    if (place === null) return false;
    put(search, item, place);
  }
  return true;
}

/** Two large items change places: what no small move would find. */
function swapTwo(search: Search): void {
  const { items, compiled, random } = search;
  const area = (item: number): number => compiled.problem.shapes[search.ring[item]].areaMm2;
  const large = Array.from({ length: items }, (_, item) => item).sort((a, b) => area(b) - area(a));
  const some = Math.max(2, Math.ceil(items * SWAPPED_PART));
  const [one, other] = [large[Math.floor(random() * some)], large[Math.floor(random() * some)]];
  if (one === other || other === undefined || search.ring[one] === search.ring[other]) return;
  const [a, b] = [placeOf(search, one), placeOf(search, other)];
  if (a.bin !== b.bin) return;
  const [toB, toA] = [
    snappedPlace(search, one, { ...a, across: b.across, slide: b.slide }),
    snappedPlace(search, other, { ...b, across: a.across, slide: a.slide }),
  ];
  if (toB === null || toA === null) return;
  put(search, one, toB);
  put(search, other, toA);
}
