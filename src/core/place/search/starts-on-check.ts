import { candidates } from './candidates.js';
import { GRID_MM, gridStates, placesOver } from './grid-states.js';
import { leastCost } from './least-cost.js';
import {
  type AxisProblems,
  type CopyState,
  costOfPlacing,
  type Placing,
  type PlacingProblem,
  stateOf,
  termCost,
} from './problem.js';
import { graphOfStates } from './state-tables.js';

/** Placings of either direction alone that are put together, each with each of the other's. */
const STARTS = 6;
/** Placings put together that are bettered copy by copy: the cheapest. */
const MOST_BETTERED = 20;
/** Rounds of bettering; most end after two or three. */
const MOST_ROUNDS = 8;

/**
 * Placings on a check worth a closer look. A place has two coordinates, and a table of all pairs of places would not fit: both directions
 * are placed as if each were alone, exactly; the best few of either are put together with those of the other, and then one copy after
 * another takes its best place along either axis beside all others, until none can be bettered.
 */
export function startsOnCheck(problem: PlacingProblem, axes: AxisProblems): Placing[] {
  const starts = [
    ...startsFrom(problem, axes, 'across'),
    ...startsFrom(problem, axes, 'along'),
    ...putTogether(problem, axes),
  ];
  const worthIt = cheapestFirst(problem, starts).slice(0, MOST_BETTERED);
  return cheapestFirst(
    problem,
    worthIt.map((start) => bettered(problem, start)),
  );
}

const cheapestFirst = (problem: PlacingProblem, placings: readonly Placing[]): Placing[] =>
  placings
    .map((placing) => ({ placing, cost: costed(problem, placing) }))
    .sort((a, b) => a.cost - b.cost)
    .map(({ placing }) => placing);

const costed = (problem: PlacingProblem, placing: Placing): number => {
  const { cost, over } = costOfPlacing(problem, placing);
  return cost + 1e4 * over;
};

/** The best few of one direction, each with the other direction's best for the same way of laying the copies. */
function startsFrom(problem: PlacingProblem, axes: AxisProblems, first: 'across' | 'along'): Placing[] {
  const second = first === 'across' ? 'along' : 'across';
  return bestOf(axes[first])
    .map((placing) => {
      // A state's `across` is that of its own problem: the direction it is about.
      const fitting: PlacingProblem = {
        ...axes[second],
        copies: axes[second].copies.map((copy, k) => ({
          ...copy,
          options: copy.options.filter(({ along }) => along === placing[k].option.across),
        })),
      };
      const others = fitting.copies.map((_, copy) => gridStates(fitting, copy));
      const { choice } = leastCost(graphOfStates(fitting, others, true));
      return problem.copies.map((_, k): CopyState => {
        const one = placing[k];
        const other = others[k][choice[k]];
        const [across, along] = first === 'across' ? [one, other] : [other, one];
        return {
          option: first === 'across' ? one.option : other.option,
          across: across.across,
          along: along.across,
        };
      });
    })
    .map((placing) =>
      placing.map((state, k) => {
        const option = problem.copies[k].options.find(
          ({ across, along }) => across === state.across.sign && along === state.along.sign,
        );
        return option === undefined ? state : { ...state, option };
      }),
    );
}

/** The best few of each direction alone, each with each of the other's that the copies' ways of lying allow. */
function putTogether(problem: PlacingProblem, axes: AxisProblems): Placing[] {
  const [across, along] = [bestOf(axes.across), bestOf(axes.along)];
  return across.flatMap((one) =>
    along.flatMap((other) => {
      const states = problem.copies.map(({ options }, k): CopyState | null => {
        const [u, v] = [one[k].across, other[k].across];
        const option = options.find((ways) => ways.across === u.sign && ways.along === v.sign);
        return option === undefined ? null : { option, across: u, along: v };
      });
      return states.every((state) => state !== null) ? [states as Placing] : [];
    }),
  );
}

function bestOf(axis: PlacingProblem): Placing[] {
  const states = axis.copies.map((_, copy) => gridStates(axis, copy));
  return candidates(graphOfStates(axis, states, true), states)
    .slice(0, STARTS)
    .map(({ placing }) => placing);
}

function bettered(problem: PlacingProblem, start: Placing): Placing {
  const placing = [...start];
  for (let round = 0; round < MOST_ROUNDS; round++) {
    let isBetter = false;
    for (let copy = 0; copy < placing.length; copy++)
      for (const axis of ['across', 'along'] as const)
        if (takesBetterPlace(problem, placing, copy, axis)) isBetter = true;
    if (!isBetter) break;
  }
  return placing;
}

/** Lays one copy at its best place along one axis, all else as it is; false, and nothing changed, where it lies there. */
function takesBetterPlace(
  problem: PlacingProblem,
  placing: CopyState[],
  copy: number,
  axis: 'across' | 'along',
): boolean {
  const choices = problem.copies[copy];
  const range = choices[axis];
  if (range === null) return false;
  const terms = problem.terms.filter(({ measure }) => measure.copies.includes(copy));
  const kept = placing[copy];
  const costAt = (state: CopyState): number => {
    placing[copy] = state;
    return terms.reduce(
      (sum, term) => sum + termCost(term, term.measure.miss(term.measure.copies.map((k) => placing[k]))),
      0,
    );
  };
  let best = kept;
  let least = costAt(kept) - 1e-9;
  for (const option of choices.options)
    for (const at of placesOver(range, GRID_MM)) {
      const state =
        axis === 'across'
          ? stateOf(option, at, kept.along.offsetMm)
          : stateOf(option, kept.across.offsetMm, at);
      const cost = costAt(state);
      if (cost < least) [least, best] = [cost, state];
    }
  placing[copy] = best;
  return best !== kept;
}
