import type { Placings } from '../../src/core/place/place-pieces.js';
import { type CopyState, costOfPlacing, stateOf } from '../../src/core/place/search/problem.js';

/**
 * The least cost over every combination of places `stepMm` apart, by trying them all: shares no search with the program. Null where there
 * are more than `most` of them.
 */
export function exhaustiveCost({ problems }: Placings, stepMm: number, most: number): number | null {
  let least = Number.POSITIVE_INFINITY;
  for (const problem of problems) {
    const states = problem.copies.map(({ options, across, still }) => {
      const [first] = options;
      if (across === null) return [stateOf(first, first.across * still[0], first.along * still[1])];
      const steps = Math.ceil((across.toMm - across.fromMm) / stepMm);
      return options.flatMap((option) =>
        Array.from({ length: steps }, (_, k) =>
          stateOf(option, across.fromMm + ((across.toMm - across.fromMm) * k) / steps, 0),
        ),
      );
    });
    if (states.reduce((product, one) => product * one.length, 1) > most) return null;
    const chosen: CopyState[] = [];
    const visit = (copy: number): void => {
      if (copy === states.length) {
        least = Math.min(least, costOfPlacing(problem, chosen).cost);
        return;
      }
      for (const state of states[copy]) {
        chosen[copy] = state;
        visit(copy + 1);
      }
    };
    visit(0);
  }
  return least;
}
