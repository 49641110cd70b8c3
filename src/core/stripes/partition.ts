/**
 * Optimal partition of a 3-channel sequence into constant pieces: least sum of squared deviations plus `penalty` for each
 * piece, by dynamic programming with pruning (PELT: Killick, Fearnhead, Eckley 2012, doi 10.1080/01621459.2012.737745).
 * Entries near the ends of a piece may be left out of its sum, so that a gradual step is no piece of its own.
 *
 * @param values 3 values an entry. Entries from..to (half open) are partitioned.
 * @param blurred Entries left out at either end of a piece, a channel each. A piece is long enough to keep one in the first.
 * @returns Starts of the pieces after the first, ascending.
 */
export function partition(
  values: ArrayLike<number>,
  from: number,
  to: number,
  penalty: number,
  blurred: readonly [number, number, number] = [0, 0, 0],
): number[] {
  const n = to - from;
  const shortest = 2 * blurred[0] + 1;
  if (n < 2 * shortest) return [];
  const runs = [0, 1, 2].map((c) => runningSums(values, from, n, c, blurred[c]));
  const best = new Float64Array(n + 1).fill(Infinity);
  const last = new Int32Array(n + 1);
  best[0] = -penalty;
  // Starts that may still win, ascending, and what a piece from each to the present end costs.
  const candidates = new Int32Array(n + 1);
  const costs = new Float64Array(n + 1);
  let count = 1;
  for (let end = shortest; end <= n; end++) {
    fillCosts(candidates, count, end, shortest, best, runs, costs);
    let least = Infinity;
    let at = 0;
    for (let k = 0; k < count; k++) {
      if (end - candidates[k] >= shortest && costs[k] + penalty < least) {
        least = costs[k] + penalty;
        at = candidates[k];
      }
    }
    best[end] = least;
    last[end] = at;
    // A start that cannot win now, even for free, can never win later: a longer piece costs no less.
    count = keepHopeful(candidates, count, end, shortest, costs, least);
    const next = end - shortest + 1;
    if (next > 0 && best[next] < Infinity) candidates[count++] = next;
  }
  const starts: number[] = [];
  for (let end = n; end > 0; end = last[end]) if (last[end] > 0) starts.push(from + last[end]);
  return starts.reverse();
}

/** Running sums of one channel and of its squares, and how many entries at either end of a piece count for nothing in it. */
interface RunningSums {
  readonly sums: Float64Array;
  readonly squares: Float64Array;
  readonly blurred: number;
}

function runningSums(
  values: ArrayLike<number>,
  from: number,
  n: number,
  channel: number,
  blurred: number,
): RunningSums {
  const sums = new Float64Array(n + 1);
  const squares = new Float64Array(n + 1);
  for (let i = 0; i < n; i++) {
    const v = values[3 * (from + i) + channel];
    sums[i + 1] = sums[i] + v;
    squares[i + 1] = squares[i] + v * v;
  }
  return { sums, squares, blurred };
}

/** Costs of all up to each candidate and of one piece from there to `end`; 0 for a piece too short to be. */
function fillCosts(
  candidates: Int32Array,
  count: number,
  end: number,
  shortest: number,
  best: Float64Array,
  runs: readonly RunningSums[],
  costs: Float64Array,
): void {
  for (let k = 0; k < count; k++) {
    const start = candidates[k];
    costs[k] = end - start < shortest ? 0 : best[start];
  }
  for (let c = 0; c < 3; c++) addPieces(candidates, count, end, shortest, runs[c], costs);
}

function addPieces(
  candidates: Int32Array,
  count: number,
  end: number,
  shortest: number,
  { sums, squares, blurred }: RunningSums,
  costs: Float64Array,
): void {
  const b = end - blurred;
  for (let k = 0; k < count; k++) {
    const a = candidates[k] + blurred;
    if (b <= a || end - candidates[k] < shortest) continue;
    const d = sums[b] - sums[a];
    costs[k] += squares[b] - squares[a] - (d * d) / (b - a);
  }
}

/** Moves the candidates that may still win to the front; returns how many. */
function keepHopeful(
  candidates: Int32Array,
  count: number,
  end: number,
  shortest: number,
  costs: Float64Array,
  least: number,
): number {
  let kept = 0;
  for (let k = 0; k < count; k++) {
    const start = candidates[k];
    if (end - start < shortest || costs[k] <= least) candidates[kept++] = start;
  }
  return kept;
}
