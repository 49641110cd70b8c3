import { type Choice, type CostGraph, costOf } from './cost-graph.js';
import { costsBeside, descend, neighbourhood } from './descend.js';
import { leastCost } from './least-cost.js';
import type { CopyState, Placing } from './problem.js';

/** Placings on the grid worth a closer look, cheapest first, each a place from which no single copy's move is cheaper. */
export interface Candidate {
  readonly placing: Placing;
  readonly cost: number;
}

/** Places of one copy that are tried as a start for all the others. */
const STARTS_OF_A_COPY = 48;

/**
 * The cheapest placing of the grid, and others that begin with one copy held elsewhere: first the rest follows it, then it is let go.
 */
export function candidates(graph: CostGraph, states: readonly (readonly CopyState[])[]): Candidate[] {
  const near = neighbourhood(graph);
  const found = new Map<string, { choice: Choice; cost: number }>();
  const keep = (choice: Choice): void => {
    found.set(choice.join(' '), { choice, cost: costOf(graph, choice) });
  };
  const cheapest = leastCost(graph).choice;
  descend(near, cheapest);
  keep(cheapest);
  graph.sizes.forEach((size, variable) => {
    if (size === 1 || near.tablesOf[variable].length === 0) return;
    for (const state of startsOf(costsBeside(near, cheapest, variable))) {
      const choice = cheapest.slice();
      choice[variable] = state;
      descend(near, choice, variable);
      descend(near, choice);
      keep(choice);
    }
  });
  return [...found.values()]
    .sort((a, b) => a.cost - b.cost)
    .map(({ choice, cost }) => ({ cost, placing: states.map((one, k) => one[choice[k]]) }));
}

/** States spread evenly, and the cheapest one about each. */
function startsOf(costs: Float64Array): number[] {
  const step = Math.max(1, costs.length / STARTS_OF_A_COPY);
  const starts = new Set<number>();
  for (let from = 0; from < costs.length; from += step) {
    const end = Math.min(costs.length, from + step);
    let best = Math.floor(from);
    for (let s = best; s < end; s++) if (costs[s] < costs[best]) best = s;
    starts.add(best);
  }
  return [...starts];
}
