import { findPlacings } from './find-placings.js';
import type { PlacingProblem } from './problem.js';

/** Musts that cannot hold together, as few as possible, and what could be had. Indices of terms. */
export interface Conflict {
  readonly musts: readonly number[];
  /** The least miss of the last of them while the others hold, in its own unit. */
  readonly leastMiss: number;
}

/** No two are the same: nothing is gained by comparing. */
const none = (): boolean => false;

/**
 * Why no placing holds all musts: musts are left out one by one, and those that are not needed for the failure stay out. problems: one for
 * each way the cloth may run, with the same terms.
 */
export function conflictingMusts(problems: readonly PlacingProblem[]): Conflict {
  const musts = problems[0].terms.flatMap(({ must }, k) => (must ? [k] : []));
  const canHold = (indices: readonly number[]): boolean =>
    problems.some((problem) => findPlacings(withMusts(problem, indices, null), none, 1)[0].over === 0);
  let needed = musts;
  for (const one of musts) {
    const fewer = needed.filter((other) => other !== one);
    if (fewer.length > 0 && !canHold(fewer)) needed = fewer;
  }
  const giving = needed[needed.length - 1];
  const rest = needed.slice(0, -1);
  const misses = problems.map((problem) => {
    const eased = withMusts(problem, rest, giving);
    const [{ placing, over }] = findPlacings(eased, none, 1);
    const { measure } = problem.terms[giving];
    const miss = measure.miss(measure.copies.map((copy) => placing[copy]));
    return over === 0 ? miss : Number.POSITIVE_INFINITY;
  });
  return { musts: needed, leastMiss: Math.min(...misses) };
}

/** The problem with some of its terms only: those as musts, `giving` as the one wish. */
function withMusts(problem: PlacingProblem, musts: readonly number[], giving: number | null): PlacingProblem {
  const keep = (terms: PlacingProblem['terms']): PlacingProblem['terms'] =>
    terms.flatMap((term, k) =>
      musts.includes(k)
        ? [{ ...term, weight: 0 }]
        : k === giving
          ? [{ ...term, must: false, weight: 1 }]
          : [],
    );
  // Terms of one direction of a check are not numbered as the whole problem's: its copies are searched without them.
  return { ...problem, terms: keep(problem.terms), axes: null };
}
