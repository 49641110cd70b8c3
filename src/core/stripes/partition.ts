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
  const sums = [0, 1, 2].map(() => new Float64Array(n + 1));
  const squares = [0, 1, 2].map(() => new Float64Array(n + 1));
  for (let i = 0; i < n; i++) {
    for (let c = 0; c < 3; c++) {
      const v = values[3 * (from + i) + c];
      sums[c][i + 1] = sums[c][i] + v;
      squares[c][i + 1] = squares[c][i] + v * v;
    }
  }
  const costOf = (start: number, end: number): number => {
    let cost = 0;
    for (let c = 0; c < 3; c++) {
      const a = start + blurred[c];
      const b = end - blurred[c];
      if (b <= a) continue;
      const d = sums[c][b] - sums[c][a];
      cost += squares[c][b] - squares[c][a] - (d * d) / (b - a);
    }
    return cost;
  };
  const best = new Float64Array(n + 1).fill(Infinity);
  const last = new Int32Array(n + 1);
  best[0] = -penalty;
  let candidates = [0];
  for (let end = shortest; end <= n; end++) {
    let least = Infinity;
    let at = 0;
    const costs = candidates.map((start) => (end - start < shortest ? 0 : best[start] + costOf(start, end)));
    for (let k = 0; k < candidates.length; k++) {
      const start = candidates[k];
      if (end - start >= shortest && costs[k] + penalty < least) {
        least = costs[k] + penalty;
        at = start;
      }
    }
    best[end] = least;
    last[end] = at;
    // A start that cannot win now, even for free, can never win later: a longer piece costs no less.
    candidates = candidates.filter((start, k) => end - start < shortest || costs[k] <= least);
    const next = end - shortest + 1;
    if (next > 0 && best[next] < Infinity) candidates.push(next);
  }
  const starts: number[] = [];
  for (let end = n; end > 0; end = last[end]) if (last[end] > 0) starts.push(from + last[end]);
  return starts.reverse();
}
