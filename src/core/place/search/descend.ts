import { type Choice, type CostGraph, costOf } from './cost-graph.js';

/** Tables by variable, so that what a change of one state costs is a sum over few. */
export interface Neighbourhood {
  readonly graph: CostGraph;
  /** For each variable, its tables, and how far one state of it moves on in each. */
  readonly tablesOf: readonly (readonly { of: readonly number[]; cost: Float64Array; stride: number }[])[];
}

export function neighbourhood(graph: CostGraph): Neighbourhood {
  const tablesOf = graph.sizes.map((_, variable) =>
    graph.tables
      .filter(({ of }) => of.includes(variable))
      .map(({ of, cost }) => {
        const after = of.slice(of.indexOf(variable) + 1);
        return { of, cost, stride: after.reduce((product, v) => product * graph.sizes[v], 1) };
      }),
  );
  return { graph, tablesOf };
}

/** Cost of each state of one variable beside the others' as chosen. */
export function costsBeside(
  { graph, tablesOf }: Neighbourhood,
  choice: Choice,
  variable: number,
): Float64Array {
  const sums = new Float64Array(graph.sizes[variable]);
  const kept = choice[variable];
  choice[variable] = 0;
  for (const { of, cost, stride } of tablesOf[variable]) {
    let at = 0;
    for (const v of of) at = at * graph.sizes[v] + choice[v];
    for (let s = 0; s < sums.length; s++, at += stride) sums[s] += cost[at];
  }
  choice[variable] = kept;
  return sums;
}

/**
 * Changes one variable after another to its cheapest state until none can be bettered; `held` stays as it is. Returns the cost. The
 * choice is changed in place.
 */
export function descend(near: Neighbourhood, choice: Choice, held = -1): number {
  for (let isBetter = true; isBetter; ) {
    isBetter = false;
    for (let variable = 0; variable < choice.length; variable++) {
      if (variable === held) continue;
      const sums = costsBeside(near, choice, variable);
      let best = choice[variable];
      for (let s = 0; s < sums.length; s++) if (sums[s] < sums[best] - 1e-9) best = s;
      if (best !== choice[variable]) {
        choice[variable] = best;
        isBetter = true;
      }
    }
  }
  return costOf(near.graph, choice);
}
