import type { Choice } from './cost-graph.js';
import { leastCost } from './least-cost.js';
import {
  type CopyState,
  costOfPlacing,
  type OffsetRange,
  type Placing,
  type PlacingProblem,
  stateOf,
} from './problem.js';
import { graphOfStates } from './state-tables.js';

/** Places looked at to either side of a copy's present one. */
const REACH = 3;
/** A step, times this, is the next: the places of the next look fill the gaps between those of the last. */
const FINER = 0.4;
/** mm; a seam of a hundred band edges then misses by a ten millionth of a mm for it, less than any file tells. */
export const FINEST_MM = 1e-9;
/** Of a cost; a gain that rounding alone could give is none. */
const LEAST_GAIN = 1e-11;
/** Looks at one step before it is made finer all the same: valleys are followed, not for ever. */
const MOST_LOOKS = 8;

/**
 * Moves all copies together to the cheapest of the places about their own, ever finer, so that a cost that is linear between its
 * breakpoints ends at one, from stepMm down to finestMm. followsSlants: valleys aslant are followed too, which takes several times as long. Each look is exact (see `leastCost`): copies that must move together do.
 */
export function refine(
  problem: PlacingProblem,
  start: Placing,
  stepMm: number,
  finestMm: number,
  followsSlants: boolean,
): Placing {
  let placing = start;
  let cost = costed(problem, placing);
  for (let step = stepMm; step > finestMm; step *= FINER) {
    for (let look = 0; look < MOST_LOOKS; look++) {
      let next = bestNear(problem, placing, step);
      let nextCost = costed(problem, next);
      if (followsSlants && !(nextCost < cost - LEAST_GAIN)) {
        next = bestAslant(problem, placing, step);
        nextCost = costed(problem, next);
      }
      if (!(nextCost < cost - LEAST_GAIN)) break;
      placing = next;
      cost = nextCost;
    }
  }
  return placing;
}

/** Musts first. */
const costed = (problem: PlacingProblem, placing: Placing): number => {
  const { cost, over } = costOfPlacing(problem, placing);
  return cost + 1e4 * over;
};

/**
 * Where a place has two coordinates, all places about it in both are too many for every pair of copies: first the one is tried, then the other,
 * and both together one step far, so that a valley that runs aslant is followed too.
 */
function bestNear(problem: PlacingProblem, placing: Placing, stepMm: number): Placing {
  const across = bestAbout(problem, placing, stepMm, [REACH, 0]);
  if (problem.copies.every(({ along }) => along === null)) return across;
  const along = bestAbout(problem, across, stepMm, [0, REACH]);
  return costed(problem, along) < costed(problem, placing) - LEAST_GAIN
    ? along
    : bestAbout(problem, placing, stepMm, [1, 1]);
}

function bestAbout(
  problem: PlacingProblem,
  placing: Placing,
  stepMm: number,
  reach: readonly [number, number],
): Placing {
  const states = placing.map((state, k) => statesAbout(state, problem.copies[k], stepMm, reach));
  const graph = graphOfStates(problem, states, false);
  const choice: Choice = leastCost(graph).choice;
  return states.map((one, k) => one[choice[k]]);
}

/**
 * Two sides of a seam at unequal angles go on meeting where each moves by its own part (see `Measure.together`): a valley aslant to the places
 * that are a step apart, which are all dearer than one on its floor.
 */
function bestAslant(problem: PlacingProblem, placing: Placing, stepMm: number): Placing {
  const states = placing.map((state, k) => {
    const { across } = problem.copies[k];
    if (across === null) return [state];
    const parts = new Set([0, 1]);
    for (const { measure } of problem.terms)
      measure.together?.forEach((part, side) => {
        if (measure.copies[side] === k) parts.add(part);
      });
    const moves = new Set([...parts].flatMap((part) => [part, -part]));
    return [...moves].map((move) =>
      stateOf(state.option, within(state.across.offsetMm + move * stepMm, across), state.along.offsetMm),
    );
  });
  const { choice } = leastCost(graphOfStates(problem, states, false));
  return states.map((one, k) => one[choice[k]]);
}

function statesAbout(
  { option, across, along }: CopyState,
  choices: PlacingProblem['copies'][number],
  stepMm: number,
  [reachAcross, reachAlong]: readonly [number, number],
): CopyState[] {
  const us = about(across.offsetMm, choices.across, stepMm, reachAcross);
  const vs = about(along.offsetMm, choices.along, stepMm, reachAlong);
  return us.flatMap((u) => vs.map((v) => stateOf(option, u, v)));
}

function about(atMm: number, range: OffsetRange | null, stepMm: number, reach: number): number[] {
  if (range === null) return [atMm];
  const places: number[] = [];
  for (let k = -reach; k <= reach; k++) places.push(within(atMm + k * stepMm, range));
  return [...new Set(places)];
}

const within = (atMm: number, { fromMm, toMm, isRound }: OffsetRange): number =>
  isRound ? atMm : Math.min(toMm, Math.max(fromMm, atMm));
