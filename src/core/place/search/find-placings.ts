import { candidates } from './candidates.js';
import { GRID_MM, gridStates } from './grid-states.js';
import { costOfPlacing, type Placing, type PlacingProblem } from './problem.js';
import { FINEST_MM, refine } from './refine.js';
import { startsOnCheck } from './starts-on-check.js';
import { graphOfStates } from './state-tables.js';

/** A placing with its cost; `over`: how far its musts are missed beyond what they allow, 0 when all hold. */
export interface FoundPlacing {
  readonly placing: Placing;
  readonly cost: number;
  readonly over: number;
}

/** Placings of the grid that are moved to the best place about them. */
const MOST_REFINED = 60;
/** Of those the ones whose cost on the grid is nearest to the cheapest, alike or not: the cheapest place need not lie by the cheapest point of a grid. */
const NEAREST_REFINED = 40;
/** mm; near enough to tell which placings are worth the last digits. */
const ROUGHLY_MM = 0.01;

/**
 * The cheapest placings, cheapest first, no two the same to `isSame`; those that miss a must come after all that miss none. Each is a best
 * place among those about it. The same problem always gives the same placings.
 */
export function findPlacings(
  problem: PlacingProblem,
  isSame: (one: Placing, other: Placing) => boolean,
  most: number,
): FoundPlacing[] {
  const chosen: Placing[] = [];
  startsOf(problem).forEach((placing, k) => {
    if (chosen.length >= MOST_REFINED) return;
    if (k < NEAREST_REFINED || !chosen.some((one) => isSame(one, placing))) chosen.push(placing);
  });
  const moved = (placing: Placing, finestMm: number, followsSlants: boolean): FoundPlacing => {
    const better = refine(problem, placing, GRID_MM / 2, finestMm, followsSlants);
    return { placing: better, ...costOfPlacing(problem, better) };
  };
  const roughly = chosen.map((placing) => moved(placing, ROUGHLY_MM, false));
  // One to spare: the last digits may change the order of two that cost about the same.
  const exact = distinct(roughly, isSame, most + 1).map(({ placing }) => moved(placing, FINEST_MM, true));
  return distinct(exact, isSame, most);
}

function startsOf(problem: PlacingProblem): readonly Placing[] {
  if (problem.axes !== null) return startsOnCheck(problem, problem.axes);
  const states = problem.copies.map((_, copy) => gridStates(problem, copy));
  return candidates(graphOfStates(problem, states, true), states).map(({ placing }) => placing);
}

/** The cheapest of several lists of placings, none twice. */
export function distinct(
  found: readonly FoundPlacing[],
  isSame: (one: Placing, other: Placing) => boolean,
  most: number,
): FoundPlacing[] {
  const kept: FoundPlacing[] = [];
  for (const one of [...found].sort((a, b) => a.over - b.over || a.cost - b.cost)) {
    if (kept.length >= most) break;
    if (!kept.some(({ placing }) => isSame(placing, one.placing))) kept.push(one);
  }
  return kept;
}
