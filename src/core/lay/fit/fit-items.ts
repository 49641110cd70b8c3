import { type Compiled, reachOf } from './compiled.js';
import { firstFit, lowestPlace } from './first-fit.js';
import type { Place } from './fit-problem.js';
import { newSearch, placesOf, type Search } from './search.js';
import { putBack, type Spend, separate } from './separate.js';
import { snappedPlace } from './snapped-place.js';

/** Places of items that do not overlap; null: no room was found. */
export type Fitted = readonly (Place | null)[];

/** Orders drawn by chance beside those by size. */
const DRAWN_ORDERS = 6;

/** The first-fit lay, over several orders, that leaves fewest over and then takes least of the lengths. isRough: by area alone. */
export function bestFirstFit(compiled: Compiled, random: () => number, isRough = false): Fitted {
  const { shapes, items, bins } = compiled.problem;
  const shapeOf = (item: number) => shapes[items[item].choices[0][0].shape];
  const all = items.map((_, k) => k);
  const by = (size: (item: number) => number): number[] => {
    const sizes = all.map(size);
    return [...all].sort((a, b) => sizes[b] - sizes[a]);
  };
  const area = (item: number): number => shapeOf(item).areaMm2;
  const tall = (item: number): number => shapeOf(item).extent.top - shapeOf(item).extent.bottom;
  const wide = (item: number): number => shapeOf(item).extent.right - shapeOf(item).extent.left;
  const orders = isRough ? [by(area)] : [by(area), by(tall), by(wide)];
  for (let k = 0; k < DRAWN_ORDERS && !isRough; k++) orders.push(by((item) => area(item) * (0.5 + random())));
  const inOrder = bins.map((_, k) => k);
  const fits = orders.map((order) => firstFit(compiled, order, inOrder));
  return fits.reduce((best, one) => (isBetter(compiled, one, best) ? one : best));
}

/** Fewer left over, by area; then less of the lengths taken. */
export function isBetter(compiled: Compiled, one: Fitted, other: Fitted): boolean {
  const left = (places: Fitted): number =>
    places.reduce((sum, place, item) => sum + (place === null ? areaOf(compiled, item) : 0), 0);
  const [a, b] = [left(one), left(other)];
  return a !== b ? a < b : takenOf(compiled, one) < takenOf(compiled, other);
}

const areaOf = ({ problem: { shapes, items } }: Compiled, item: number): number =>
  shapes[items[item].choices[0][0].shape].areaMm2;

/** How far what lies on all bins reaches, added up. */
export function takenOf(compiled: Compiled, places: Fitted): number {
  const reach = compiled.problem.bins.map(() => 0);
  places.forEach((place, item) => {
    if (place !== null) reach[place.bin] = Math.max(reach[place.bin], reachOf(compiled, item, place));
  });
  return reach.reduce((sum, one) => sum + one, 0);
}

/** Finds room for all items; where first fit leaves some over they are pushed in among the others. What is left over at last has none. */
export async function fitItems(compiled: Compiled, random: () => number, spend: Spend): Promise<Fitted> {
  const first = bestFirstFit(compiled, random);
  if (first.every((place) => place !== null)) return first;
  const hasRoom = compiled.choices.map((bins) => bins.some((choices) => choices.length > 0));
  if (!hasRoom.every((one) => one) || !areasFit(compiled)) return first;
  const search = newSearch(compiled, random);
  const start = first.map((place, item) => place ?? anyPlace(search, item));
  if (start.some((place) => place === null)) return first;
  putBack(search, start as Place[]);
  if (await separate(search, spend)) return placesOf(search);
  const rest = withoutOverlaps(search);
  return isBetter(compiled, rest, first) ? rest : first;
}

/** What of a search's places can stand: items are taken out, the most entangled first, until none overlaps; what room is left then takes some of them again. */
function withoutOverlaps(search: Search): Fitted {
  const { items, columns, depth, compiled } = search;
  const places: (Place | null)[] = placesOf(search);
  const overlaps = (item: number): number => {
    let sum = 0;
    for (let other = 0; other < columns; other++)
      if (other >= items || places[other] !== null) sum += depth[item * columns + other];
    return sum;
  };
  for (;;) {
    let worst = -1;
    let most = 0;
    for (let item = 0; item < items; item++) {
      const sum = places[item] === null ? 0 : overlaps(item) / areaOf(compiled, item);
      if (sum > most) [worst, most] = [item, sum];
    }
    if (worst < 0) break;
    places[worst] = null;
  }
  const out = places.flatMap((place, item) => (place === null ? [item] : []));
  for (const item of out.sort((a, b) => areaOf(compiled, b) - areaOf(compiled, a)))
    for (let bin = 0; bin < compiled.problem.bins.length && places[item] === null; bin++)
      places[item] = lowestPlace(compiled, places, item, bin);
  return places;
}

/** No more is to be cut than there is. */
function areasFit(compiled: Compiled): boolean {
  const { items, bins } = compiled.problem;
  const wanted = items.reduce((sum, _, item) => sum + areaOf(compiled, item), 0);
  return (
    wanted <= bins.reduce((sum, { room: [l, r, b, t] }) => sum + Math.max(0, r - l) * Math.max(0, t - b), 0)
  );
}

/** Somewhere in a bin that takes the item, by chance. */
export function anyPlace(
  search: Search,
  item: number,
  bins = search.compiled.problem.bins.map((_, k) => k),
): Place | null {
  const { choices } = search.compiled;
  const open = bins.filter((bin) => choices[item][bin].length > 0);
  if (open.length === 0) return null;
  const bin = open[Math.floor(search.random() * open.length)];
  const choice = Math.floor(search.random() * choices[item][bin].length);
  const [left, right, bottom, top] = choices[item][bin][choice].bounds;
  const across = left + search.random() * (right - left);
  return snappedPlace(search, item, {
    bin,
    choice,
    across,
    slide: bottom + search.random() * (top - bottom),
  });
}
