import type { Choice, CostGraph, CostTable } from './cost-graph.js';

/** The cheapest choice. */
export interface LeastCost {
  readonly choice: Choice;
  readonly cost: number;
  /** Nothing cheaper exists; false where the search was ended by its limit. */
  readonly isProved: boolean;
}

/** Entries that are looked at to take out one variable: a few tenths of a second. Wider ties are bounded from below in parts. */
const WIDEST = 4e7;

/** Choices of a single variable that are looked at, at most, before the best found so far is taken. */
const MOST_LOOKS = 2e6;

/**
 * The cheapest choice of all, by taking out one variable after another (Dechter 1999, Bucket elimination, doi
 * 10.1016/S0004-3702(99)00059-4). Where a variable is tied to so many others that a table of them all would be too large, the tables are
 * split in parts whose cheapest sums bound the true one from below (Dechter and Rish 2003, Mini-buckets, doi 10.1145/636865.636866), and
 * branch and bound with these bounds finds the cheapest all the same.
 */
export function leastCost(graph: CostGraph): LeastCost {
  const order = eliminationOrder(graph);
  const buckets = bounds(graph, order);
  return branchAndBound(graph, order, buckets);
}

/** Variables in the order in which they are taken out: each time the one whose neighbours need fewest new ties among each other. */
export function eliminationOrder({ sizes, tables }: CostGraph): number[] {
  const near = sizes.map(() => new Set<number>());
  for (const { of } of tables) for (const a of of) for (const b of of) if (a !== b) near[a].add(b);
  const left = new Set(sizes.keys());
  const order: number[] = [];
  while (left.size > 0) {
    let best = -1;
    let least = Number.POSITIVE_INFINITY;
    for (const i of left) {
      const around = [...near[i]];
      let fill = 0;
      around.forEach((a, k) => {
        for (let m = k + 1; m < around.length; m++) if (!near[a].has(around[m])) fill++;
      });
      const weight = fill * 1e6 + around.reduce((product, a) => product * sizes[a], sizes[i]) * 1e-12;
      if (weight < least) [least, best] = [weight, i];
    }
    for (const a of near[best]) {
      near[a].delete(best);
      for (const b of near[best]) if (a !== b) near[a].add(b);
    }
    left.delete(best);
    order.push(best);
  }
  return order;
}

/** What is known of each variable once those before it in the order are taken out. */
interface Bucket {
  /** The graph's own tables that this variable is the first of in the order. */
  readonly own: CostTable[];
  /** Cheapest sums of what was taken out before. */
  readonly received: CostTable[];
  /** Its own cheapest sums, as handed on; without variables, a number. */
  readonly sent: CostTable[];
}

function bounds({ sizes, tables }: CostGraph, order: readonly number[]): Bucket[] {
  const rank = new Int32Array(sizes.length);
  order.forEach((variable, k) => {
    rank[variable] = k;
  });
  const firstOf = (of: readonly number[]): number =>
    of.reduce((first, variable) => (rank[variable] < rank[first] ? variable : first));
  const buckets: Bucket[] = sizes.map(() => ({ own: [], received: [], sent: [] }));
  for (const table of tables) buckets[firstOf(table.of)].own.push(table);
  for (const variable of order) {
    const { own, received, sent } = buckets[variable];
    for (const part of parts([...own, ...received], sizes)) {
      const message = cheapestOver(part, variable, sizes);
      sent.push(message);
      if (message.of.length > 0) buckets[firstOf(message.of)].received.push(message);
    }
  }
  return buckets;
}

/** The tables in groups, few, whose variables together have no more than WIDEST states. */
function parts(tables: readonly CostTable[], sizes: readonly number[]): CostTable[][] {
  const groups: { of: Set<number>; tables: CostTable[] }[] = [];
  const spread = (of: Iterable<number>): number => [...of].reduce((product, v) => product * sizes[v], 1);
  for (const table of [...tables].sort((a, b) => b.cost.length - a.cost.length)) {
    const home = groups.find(({ of }) => spread(new Set([...of, ...table.of])) <= WIDEST);
    if (home === undefined) groups.push({ of: new Set(table.of), tables: [table] });
    else {
      for (const v of table.of) home.of.add(v);
      home.tables.push(table);
    }
  }
  return groups.map((group) => group.tables);
}

/** The sum of the tables, cheapest over one variable, as a table of the others. */
function cheapestOver(tables: readonly CostTable[], variable: number, sizes: readonly number[]): CostTable {
  const of = [...new Set(tables.flatMap((table) => [...table.of]))]
    .filter((v) => v !== variable)
    .sort((a, b) => a - b);
  const size = of.reduce((product, v) => product * sizes[v], 1);
  const cost = new Float64Array(size);
  const states = sizes[variable];
  const sums = new Float64Array(states);
  const strides = tables.map((table) => stridesOf(table, sizes));
  const own = strides.map((stride) => stride.get(variable) ?? 0);
  const at = new Int32Array(of.length);
  const base = new Int32Array(tables.length);
  for (let k = 0; k < size; k++) {
    sums.fill(0);
    for (let t = 0; t < tables.length; t++) addLine(sums, tables[t].cost, base[t], own[t]);
    let least = sums[0];
    for (let s = 1; s < states; s++) if (sums[s] < least) least = sums[s];
    cost[k] = least;
    // The next states of the others, the last fastest.
    for (let d = of.length - 1; d >= 0; d--) {
      const wraps = ++at[d] === sizes[of[d]];
      for (let t = 0; t < tables.length; t++) {
        const stride = strides[t].get(of[d]) ?? 0;
        base[t] += wraps ? -stride * (sizes[of[d]] - 1) : stride;
      }
      if (!wraps) break;
      at[d] = 0;
    }
  }
  return { of, cost };
}

/** A function of its own so that the engine compiles it early: the search spends its time here. */
function addLine(sums: Float64Array, cost: Float64Array, from: number, stride: number): void {
  if (stride === 1) for (let s = 0; s < sums.length; s++) sums[s] += cost[from + s];
  else for (let s = 0, i = from; s < sums.length; s++, i += stride) sums[s] += cost[i];
}

/** How far one state of each variable moves on in a table. */
function stridesOf({ of }: CostTable, sizes: readonly number[]): Map<number, number> {
  const strides = new Map<number, number>();
  let stride = 1;
  for (let k = of.length - 1; k >= 0; k--) {
    strides.set(of[k], stride);
    stride *= sizes[of[k]];
  }
  return strides;
}

function branchAndBound(
  { sizes }: CostGraph,
  order: readonly number[],
  buckets: readonly Bucket[],
): LeastCost {
  const choice = new Int32Array(sizes.length);
  let best: Choice = choice.slice();
  let leastCostYet = Number.POSITIVE_INFINITY;
  let looks = 0;
  const lookUp = (table: CostTable): number => table.cost[placeOf(table, choice, sizes)];
  const lineStride = buckets.map(
    ({ own, received }, variable) =>
      new Map([...own, ...received].map((table) => [table, stridesOf(table, sizes).get(variable) as number])),
  );
  /** spent: of tables whose variables are all chosen; owed: the least that the rest will add. */
  const visit = (k: number, spent: number, owed: number): void => {
    if (k < 0) {
      if (spent < leastCostYet) {
        leastCostYet = spent;
        best = choice.slice();
      }
      return;
    }
    const variable = order[k];
    const { own, received, sent } = buckets[variable];
    // What this variable's bucket promised to those chosen before it gives way to what its states really cost.
    const rest = owed - sent.reduce((sum, table) => sum + lookUp(table), 0);
    choice[variable] = 0;
    looks += sizes[variable];
    const spends = new Float64Array(sizes[variable]);
    const owes = new Float64Array(sizes[variable]);
    const strides = lineStride[variable];
    for (const table of own)
      addLine(spends, table.cost, placeOf(table, choice, sizes), strides.get(table) as number);
    for (const table of received)
      addLine(owes, table.cost, placeOf(table, choice, sizes), strides.get(table) as number);
    const bound = spends.map((cost, s) => spent + cost + rest + owes[s]);
    for (const s of ascending(bound)) {
      // A hair less would have equal choices looked at again and again, for rounding.
      if (bound[s] >= leastCostYet - 1e-9) return;
      if (looks > MOST_LOOKS && leastCostYet < Number.POSITIVE_INFINITY) return;
      choice[variable] = s;
      visit(k - 1, spent + spends[s], rest + owes[s]);
    }
  };
  const promised = buckets.flatMap(({ sent }) => sent.filter(({ of }) => of.length === 0));
  visit(
    order.length - 1,
    0,
    promised.reduce((sum, { cost }) => sum + cost[0], 0),
  );
  return { choice: best, cost: leastCostYet, isProved: looks <= MOST_LOOKS };
}

function placeOf({ of }: CostTable, choice: Choice, sizes: readonly number[]): number {
  let at = 0;
  for (const v of of) at = at * sizes[v] + choice[v];
  return at;
}

/** Indices by growing value. */
const ascending = (values: Float64Array): number[] =>
  Array.from(values.keys()).sort((a, b) => values[a] - values[b] || a - b);
