import { bestOnLine } from './best-on-line.js';
import { type CompiledChoice, HAIR_MM } from './compiled.js';
import type { Place } from './fit-problem.js';
import { costAt, costOf, farthestShift, placeOf, put, type Search } from './search.js';

/** Lines tried along either axis by an item that can be laid one way; of several ways each gets fewer. More find better places in fewer rounds. */
const LINES = 4;
/** Columns tried where an item is bound to them. */
const COLUMNS = 24;
/** Turns from one axis to the other at the best place found. */
const TURNS = 6;

interface Found {
  place: Place;
  cost: number;
}

/** Moves an item to the best place that lines drawn by chance find, where its overlaps count less than now; else it stays. */
export function moveItem(search: Search, item: number): boolean {
  const now = costOf(search, item);
  const found: Found = { place: placeOf(search, item), cost: now };
  const { choices } = search.compiled;
  for (let bin = 0; bin < choices[item].length; bin++)
    for (let k = 0; k < choices[item][bin].length; k++) {
      tryLines(search, item, bin, k, found);
      if (found.cost === 0) break;
    }
  if (found.cost > 0) follow(search, item, found);
  if (found.cost >= now) return false;
  put(search, item, found.place);
  return true;
}

function tryLines(search: Search, item: number, bin: number, choice: number, found: Found): void {
  const own = search.compiled.choices[item][bin][choice];
  const { columns, slideAt } = own;
  const isHere = search.bin[item] === bin;
  if (columns !== null) {
    let open = columns.length;
    const most = range(search, own, 0, bin)[1];
    while (open > 0 && columns[open - 1] > most + HAIR_MM) open--;
    const few = open <= COLUMNS;
    const count = few ? open : COLUMNS;
    const start = few ? Math.floor(search.random() * open) : 0;
    for (let t = 0; t < count && found.cost > 0; t++) {
      const k = few ? (start + t) % open : Math.floor(search.random() * open);
      tryLine(search, item, bin, choice, 0, columns[k], k, found);
    }
    return;
  }
  const lines = Math.max(2, Math.ceil((2 * LINES) / (1 + search.compiled.choices[item][bin].length)));
  for (let t = 0; t < lines && found.cost > 0; t++) {
    const across = drawn(search, own, 0, bin, isHere && t < 2 ? search.across[item] : null);
    tryLine(search, item, bin, choice, 0, across, 0, found);
    if (slideAt !== null || found.cost === 0) continue;
    const slide = drawn(search, own, 1, bin, isHere && t < 2 ? search.slide[item] : null);
    tryLine(search, item, bin, choice, 1, slide, 0, found);
  }
}

/** Least and greatest shift of an item along an axis, now. */
function range(search: Search, own: CompiledChoice, axis: 0 | 1, bin: number): readonly [number, number] {
  const low = own.bounds[2 * axis];
  return [
    low,
    search.compiled.alongAxis[bin] === axis ? farthestShift(search, bin, own) : own.bounds[2 * axis + 1],
  ];
}

/** A shift by chance; near: not far from there. */
function drawn(search: Search, own: CompiledChoice, axis: 0 | 1, bin: number, near: number | null): number {
  const [low, high] = range(search, own, axis, bin);
  if (near === null) return low + search.random() * (high - low);
  const spread = 0.1 * (high - low) * (search.random() + search.random() - 1);
  return Math.min(high, Math.max(low, near + spread * search.random()));
}

function tryLine(
  search: Search,
  item: number,
  bin: number,
  choice: number,
  axis: 0 | 1,
  at: number,
  column: number,
  found: Found,
): void {
  const own = search.compiled.choices[item][bin][choice];
  const [low, high] = range(search, own, axis === 0 ? 1 : 0, bin);
  const [least, most] = range(search, own, axis, bin);
  if (high < low) return;
  if (at < least - HAIR_MM || at > most + HAIR_MM) return;
  const steps = axis === 0 ? own.slideAt : null;
  const line = {
    bin,
    ring: own.ring,
    axis,
    at,
    low,
    high,
    step: steps === null ? 0 : own.slideStepMm,
    first: steps === null ? 0 : steps[column],
  };
  const shift = bestOnLine(search, item, line);
  if (Number.isNaN(shift)) return;
  const place =
    axis === 0 ? { bin, choice, across: at, slide: shift } : { bin, choice, across: shift, slide: at };
  const cost = costAt(search, item, place, own.ring, found.cost);
  if (cost >= found.cost) return;
  found.place = place;
  found.cost = cost;
}

/** From the best place along either axis in turn, as long as that is better. */
function follow(search: Search, item: number, found: Found): void {
  const { bin, choice } = found.place;
  const own = search.compiled.choices[item][bin][choice];
  const isFree = own.columns === null && own.slideAt === null;
  let still = 0;
  for (let turn = 0; turn < TURNS && still < 2 && found.cost > 0; turn++) {
    const axis = (turn & 1) as 0 | 1;
    const before = found.cost;
    if (axis === 1 && !isFree) return;
    const at = axis === 0 ? found.place.across : found.place.slide;
    const column = own.columns === null ? 0 : own.columns.indexOf(at);
    tryLine(search, item, bin, choice, axis, at, Math.max(0, column), found);
    still = found.cost < before ? 0 : still + 1;
  }
}
