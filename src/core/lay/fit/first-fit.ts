import { forbiddenOnLine } from '../nofit/forbidden-on-line.js';
import { type Compiled, type CompiledChoice, HAIR_MM } from './compiled.js';
import type { Place } from './fit-problem.js';

/** Columns tried where a piece may lie anywhere across: a start is wanted here, not the best. */
const FREE_COLUMNS = 24;

/**
 * Lays items one after another, in the order given, each in the first bin with room for it and there as near to the cut end as it can. Null: no
 * room is left for it. What is laid never overlaps.
 */
export function firstFit(
  compiled: Compiled,
  order: readonly number[],
  bins: readonly number[],
): (Place | null)[] {
  const places: (Place | null)[] = compiled.problem.items.map(() => null);
  for (const item of order) {
    for (const bin of bins) {
      places[item] = lowestPlace(compiled, places, item, bin);
      if (places[item] !== null) break;
    }
  }
  return places;
}

/** The allowed place of an item that reaches least far along the length among what is laid; null without one. */
export function lowestPlace(
  compiled: Compiled,
  places: readonly (Place | null)[],
  item: number,
  bin: number,
): Place | null {
  const isSlid = compiled.alongAxis[bin] === 1;
  let best: Place | null = null;
  let bestReach = Infinity;
  compiled.choices[item][bin].forEach((choice, index) => {
    for (const [k, across] of columnsToTry(compiled, places, choice, bin).entries()) {
      // Columns ascend: those beyond reach no less far.
      if (!isSlid && across + choice.reachMm >= bestReach) break;
      const slide = lowestSlide(compiled, places, choice, bin, across, k);
      if (slide === null) continue;
      const reach = choice.reachMm + (isSlid ? slide : across);
      if (reach < bestReach - HAIR_MM) {
        bestReach = reach;
        best = { bin, choice: index, across, slide };
      }
    }
  });
  return best;
}

/** Where any shift across will do: a grid, and where it would touch what lies there. */
function columnsToTry(
  compiled: Compiled,
  places: readonly (Place | null)[],
  choice: CompiledChoice,
  bin: number,
): ArrayLike<number> & Iterable<number> & { entries: () => Iterable<[number, number]> } {
  if (choice.columns !== null) return choice.columns;
  const [low, high] = choice.bounds;
  const found: number[] = [];
  for (let k = 0; k <= FREE_COLUMNS; k++) found.push(low + (k / FREE_COLUMNS) * (high - low));
  places.forEach((place, other) => {
    if (place === null || place.bin !== bin) return;
    const { ring } = compiled.choices[other][bin][place.choice];
    const { box } = compiled.noFitOf(ring, choice.ring);
    for (const at of [place.across + box[0] - HAIR_MM, place.across + box[1] + HAIR_MM])
      if (at >= low && at <= high) found.push(at);
  });
  return found.sort((a, b) => a - b);
}

const stretches = new Float64Array(1 << 16);

function lowestSlide(
  compiled: Compiled,
  places: readonly (Place | null)[],
  choice: CompiledChoice,
  bin: number,
  across: number,
  column: number,
): number | null {
  const forbidden: [number, number][] = [];
  const add = (ring: number, atAcross: number, atSlide: number): void => {
    const end = forbiddenOnLine(compiled.noFitOf(ring, choice.ring), 0, across - atAcross, stretches, 0);
    for (let i = 0; i < end; i += 2)
      forbidden.push([stretches[i] + atSlide + HAIR_MM, stretches[i + 1] + atSlide - HAIR_MM]);
  };
  for (const ring of compiled.blocks[bin]) add(ring, 0, 0);
  places.forEach((place, other) => {
    if (place !== null && place.bin === bin)
      add(compiled.choices[other][bin][place.choice].ring, place.across, place.slide);
  });
  forbidden.sort((a, b) => a[0] - b[0]);
  const [, , low, high] = choice.bounds;
  const { slideAt, slideStepMm } = choice;
  const allowedFrom = (at: number): number =>
    slideAt === null
      ? at
      : slideStepMm === 0
        ? slideAt[column] >= at - HAIR_MM
          ? slideAt[column]
          : Infinity
        : slideAt[column] + Math.ceil((at - HAIR_MM - slideAt[column]) / slideStepMm) * slideStepMm;
  let slide = allowedFrom(low);
  for (const [from, to] of forbidden) {
    if (from >= slide) break;
    if (to > slide) slide = allowedFrom(to + HAIR_MM);
  }
  return slide <= high + HAIR_MM ? slide : null;
}
