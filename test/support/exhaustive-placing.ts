import type { Placings } from '../../src/core/place/place-pieces.js';
import {
  type CopyState,
  costOfPlacing,
  type OffsetRange,
  stateOf,
} from '../../src/core/place/search/problem.js';

/**
 * The least cost over every combination of places `stepMm` apart, by trying them all: shares no search with the program. Null where there
 * are more than `most` of them.
 */
export function exhaustiveCost({ problems }: Placings, stepMm: number, most: number): number | null {
  let least = Number.POSITIVE_INFINITY;
  for (const problem of problems) {
    const states = problem.copies.map(({ options, across, along, still }) => {
      const [first] = options;
      if (across === null) return [stateOf(first, first.across * still[0], first.along * still[1])];
      return options.flatMap((option) =>
        spread(across, stepMm).flatMap((u) =>
          (along === null ? [option.along * still[1]] : spread(along, stepMm)).map((v) =>
            stateOf(option, u, v),
          ),
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

/** Places of a range, no more than stepMm apart. */
function spread({ fromMm, toMm }: OffsetRange, stepMm: number): number[] {
  const steps = Math.ceil((toMm - fromMm) / stepMm);
  return Array.from({ length: steps }, (_, k) => fromMm + ((toMm - fromMm) * k) / steps);
}
