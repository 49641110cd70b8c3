/**
 * Optimal partition of a 3-channel sequence into constant pieces: least sum of squared deviations plus `penalty` for each
 * piece, by dynamic programming with pruning (PELT: Killick, Fearnhead, Eckley 2012, doi 10.1080/01621459.2012.737745).
 *
 * @param values 3 values an entry. Entries from..to (half open) are partitioned.
 * @param weights How much each entry's deviation counts (its inverse variance): 1 for a fully seen column.
 * @param shortest Fewest entries in a piece.
 * @returns Starts of the pieces after the first, ascending.
 */
export function partition(
  values: ArrayLike<number>,
  weights: ArrayLike<number>,
  from: number,
  to: number,
  penalty: number,
  shortest = 2,
): number[] {
  const n = to - from;
  if (n < 2 * shortest) return [];
  const sums = [0, 1, 2].map(() => new Float64Array(n + 1));
  const squares = new Float64Array(n + 1);
  const mass = new Float64Array(n + 1);
  for (let i = 0; i < n; i++) {
    const weight = weights[from + i];
    mass[i + 1] = mass[i] + weight;
    let square = 0;
    for (let c = 0; c < 3; c++) {
      const v = values[3 * (from + i) + c];
      sums[c][i + 1] = sums[c][i] + weight * v;
      square += weight * v * v;
    }
    squares[i + 1] = squares[i] + square;
  }
  const [s0, s1, s2] = sums;
  const costOf = (a: number, b: number): number => {
    const d0 = s0[b] - s0[a];
    const d1 = s1[b] - s1[a];
    const d2 = s2[b] - s2[a];
    return squares[b] - squares[a] - (d0 * d0 + d1 * d1 + d2 * d2) / Math.max(1e-12, mass[b] - mass[a]);
  };
  const best = new Float64Array(n + 1).fill(Infinity);
  const last = new Int32Array(n + 1);
  best[0] = -penalty;
  let candidates = [0];
  for (let end = shortest; end <= n; end++) {
    let least = Infinity;
    let at = 0;
    for (const start of candidates) {
      if (end - start < shortest) continue;
      const cost = best[start] + costOf(start, end) + penalty;
      if (cost < least) {
        least = cost;
        at = start;
      }
    }
    best[end] = least;
    last[end] = at;
    // A start that cannot win now, even for free, can never win later.
    candidates = candidates.filter(
      (start) => end - start < shortest || best[start] + costOf(start, end) <= least,
    );
    const next = end - shortest + 1;
    if (next > 0 && best[next] < Infinity) candidates.push(next);
  }
  const starts: number[] = [];
  for (let end = n; end > 0; end = last[end]) if (last[end] > 0) starts.push(from + last[end]);
  return starts.reverse();
}
