import type { CostGraph, CostTable } from './cost-graph.js';
import { type CopyState, type PlacingProblem, type Term, termCost } from './problem.js';

/**
 * What every combination of the states costs, term by term. slackOf: the miss of a must that is overlooked between states (see
 * `overlooked`). Terms about more than two copies are counted pair by pair, no pair more than the whole can be: a bound from below.
 */
export function graphOfStates(
  { terms }: PlacingProblem,
  states: readonly (readonly CopyState[])[],
  isCoarse: boolean,
): CostGraph {
  const sizes = states.map((one) => one.length);
  const merged = new Map<string, CostTable>();
  const add = (of: readonly number[], misses: Float64Array, term: Term, part: number): void => {
    const key = of.join(' ');
    let table = merged.get(key);
    if (table === undefined) {
      table = { of, cost: new Float64Array(misses.length) };
      merged.set(key, table);
    }
    const slack = isCoarse && term.must ? overlooked(misses, sizes[of[of.length - 1]]) : 0;
    const isWhole = part === 1;
    for (let k = 0; k < misses.length; k++)
      table.cost[k] += isWhole ? termCost(term, misses[k], slack) : part * term.weight * misses[k];
  };
  for (const term of terms) {
    const { copies } = term.measure;
    if (copies.length === 1) {
      add(
        copies,
        Float64Array.from(states[copies[0]], (state) => term.measure.miss([state])),
        term,
        1,
      );
      continue;
    }
    // Of n copies that are not all alike at least n - 1 pairs differ, and at most a quarter of n squared do.
    const part = copies.length === 2 ? 1 : 1 / Math.floor((copies.length * copies.length) / 4);
    for (let a = 0; a < copies.length; a++)
      for (let b = a + 1; b < copies.length; b++)
        addPair(term, [copies[a], copies[b]], states, copies.length === 2, (of, misses) =>
          add(of, misses, term, part),
        );
  }
  return { sizes, tables: [...merged.values()] };
}

function addPair(
  { measure }: Term,
  [first, second]: readonly [number, number],
  states: readonly (readonly CopyState[])[],
  isAll: boolean,
  add: (of: readonly number[], misses: Float64Array) => void,
): void {
  const ascending = first < second;
  const [low, high] = ascending ? [first, second] : [second, first];
  const misses = new Float64Array(states[low].length * states[high].length);
  // A measure of more copies is asked with one pair of them in all places: the others as the first.
  const pair: CopyState[] = [];
  const asked = (a: CopyState, b: CopyState): CopyState[] => {
    if (!isAll) return measure.copies.map((copy) => (copy === second ? b : a));
    // One list for all: a hundred thousand of them would be rubbish at once.
    pair[0] = a;
    pair[1] = b;
    return pair;
  };
  let k = 0;
  for (const one of states[low])
    for (const other of states[high])
      misses[k++] = measure.miss(ascending ? asked(one, other) : asked(other, one));
  add([low, high], misses);
}

/**
 * How much of a must's miss a grid may overlook: half of what it usually changes by from one state to the next, since the place where
 * the must holds may lie between two states.
 */
function overlooked(misses: Float64Array, line: number): number {
  const steps: number[] = [];
  for (let k = 1; k < misses.length; k++) if (k % line !== 0) steps.push(Math.abs(misses[k] - misses[k - 1]));
  steps.sort((a, b) => a - b);
  return steps[Math.floor(0.75 * steps.length)] ?? 0;
}
