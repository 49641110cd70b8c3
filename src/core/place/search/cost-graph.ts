/**
 * Choices that cost something alone and together: variable i takes one of sizes[i] states; every table gives the cost of the states
 * of the variables it is about, the last of them running fastest. Costs are finite.
 */
export interface CostGraph {
  readonly sizes: readonly number[];
  readonly tables: readonly CostTable[];
}

export interface CostTable {
  /** Variables, ascending, each once. */
  readonly of: readonly number[];
  readonly cost: Float64Array;
}

/** One state for each variable. */
export type Choice = Int32Array;

/** Cost of a choice: the sum over all tables. */
export function costOf({ sizes, tables }: CostGraph, choice: Choice): number {
  let sum = 0;
  for (const { of, cost } of tables) {
    let at = 0;
    for (const variable of of) at = at * sizes[variable] + choice[variable];
    sum += cost[at];
  }
  return sum;
}

/** Groups of variables that tables tie together, each ascending; a variable that no table names is a group of its own. */
export function groupsOf({ sizes, tables }: CostGraph): number[][] {
  const group = sizes.map((_, i) => i);
  const root = (i: number): number => {
    let at = i;
    while (group[at] !== at) at = group[at];
    return at;
  };
  for (const { of } of tables) for (const other of of) group[root(other)] = root(of[0]);
  const members = new Map<number, number[]>();
  sizes.forEach((_, i) => {
    const at = root(i);
    members.set(at, [...(members.get(at) ?? []), i]);
  });
  return [...members.values()];
}
