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
} from './problem.js';
import { graphOfStates } from './state-tables.js';

/** Placings of one direction alone that the other is fitted to. */
const STARTS = 6;
/** Rounds of bettering one direction beside the other; most end after two or three. */
const MOST_ROUNDS = 8;

/**
 * Placings on a check worth a closer look. A place has two coordinates, and a table of all pairs of places would not fit: the directions are
 * placed one by one, first each as if it were alone, then each beside the other as it lies, exactly every time, until neither can be
 * bettered. Begun with either direction, from several of its placings.
 */
export function startsOnCheck(problem: PlacingProblem, axes: AxisProblems): Placing[] {
  const starts = [...startsFrom(problem, axes, 'across'), ...startsFrom(problem, axes, 'along')];
  return starts
    .map((start) => bettered(problem, start))
    .map((placing) => ({ placing, cost: costed(problem, placing) }))
    .sort((a, b) => a.cost - b.cost)
    .map(({ placing }) => placing);
}

const costed = (problem: PlacingProblem, placing: Placing): number => {
  const { cost, over } = costOfPlacing(problem, placing);
  return cost + 1e4 * over;
};

/** The best few of one direction, each with the other direction's best for the same way of laying the copies. */
function startsFrom(problem: PlacingProblem, axes: AxisProblems, first: 'across' | 'along'): Placing[] {
  const second = first === 'across' ? 'along' : 'across';
  const states = axes[first].copies.map((_, copy) => gridStates(axes[first], copy));
  return candidates(graphOfStates(axes[first], states, true), states)
    .slice(0, STARTS)
    .map(({ placing }) => {
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

function bettered(problem: PlacingProblem, start: Placing): Placing {
  let placing = start;
  let cost = costed(problem, placing);
  for (let round = 0; round < MOST_ROUNDS; round++) {
    let next = placing;
    for (const axis of ['across', 'along'] as const) next = bestOnAxis(problem, next, axis);
    const nextCost = costed(problem, next);
    if (!(nextCost < cost - 1e-9)) break;
    placing = next;
    cost = nextCost;
  }
  return placing;
}

/** Every copy's best place along one axis, all together, the other coordinate as it is; where it is no worse than what was. */
function bestOnAxis(problem: PlacingProblem, placing: Placing, axis: 'across' | 'along'): Placing {
  const states = placing.map((state, k): CopyState[] => {
    const { across, along, options } = problem.copies[k];
    const range = axis === 'across' ? across : along;
    if (range === null) return [state];
    const moved = options.flatMap((option) =>
      placesOver(range, GRID_MM).map((at) =>
        axis === 'across'
          ? stateOf(option, at, state.along.offsetMm)
          : stateOf(option, state.across.offsetMm, at),
      ),
    );
    return [state, ...moved];
  });
  const { choice } = leastCost(graphOfStates(problem, states, false));
  return states.map((one, k) => one[choice[k]]);
}
