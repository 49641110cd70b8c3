import {
  type CopyChoices,
  type CopyState,
  type OffsetRange,
  type PlacingProblem,
  stateOf,
} from './problem.js';

/** mm from one place of the grid to the next, at most. */
export const GRID_MM = 0.24;

/** Evenly spread places of a range, its ends among them where it is not round. */
export function placesOver({ fromMm, toMm, isRound }: OffsetRange, mostStepMm: number): number[] {
  const steps = Math.max(1, Math.ceil((toMm - fromMm) / mostStepMm));
  const count = isRound ? steps : steps + (toMm > fromMm ? 1 : 0);
  return Array.from({ length: count }, (_, k) => fromMm + ((toMm - fromMm) * k) / steps);
}

/**
 * The states of a copy on the grid. Options that put the same stripes on the copy count once, the first of them. Where the place along
 * the stripes matters, it is the best one for what the copy alone wishes.
 */
export function gridStates(problem: PlacingProblem, copy: number): CopyState[] {
  const { options, across, along, still } = problem.copies[copy];
  const own = problem.terms.filter(
    ({ measure }) => measure.copies.length === 1 && measure.copies[0] === copy,
  );
  if (across === null)
    return [stateOf(options[0], options[0].across * still[0], options[0].along * still[1])];
  const states: CopyState[] = [];
  for (const option of distinct(problem.copies[copy]))
    for (const u of placesOver(across, GRID_MM)) {
      // Both directions of a check are searched one by one.
      if (along === null || problem.axes !== null) {
        states.push(stateOf(option, u, option.along * still[1]));
        continue;
      }
      let best: CopyState | null = null;
      let least = Number.POSITIVE_INFINITY;
      for (const v of placesOver(along, GRID_MM)) {
        const state = stateOf(option, u, v);
        const cost = own.reduce(
          (sum, { measure, weight }) => sum + (measure.asksAlong ? weight * measure.miss([state]) : 0),
          0,
        );
        if (cost < least) [least, best] = [cost, state];
        if (least === 0) break;
      }
      states.push(best as CopyState);
    }
  return states;
}

const distinct = ({ options, along }: CopyChoices): CopyChoices['options'] =>
  along !== null
    ? options
    : options.filter((one, k) => options.findIndex(({ across }) => across === one.across) === k);
