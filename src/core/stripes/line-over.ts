/** Line of least squares of each of three channels over n columns: its middle and its slope a column. */
export function lineOver(
  lab: ArrayLike<number>,
  from: number,
  n: number,
): { mean: number[]; slope: number[] } {
  const mean = [0, 0, 0];
  const slope = [0, 0, 0];
  const spread = (n * (n * n - 1)) / 12;
  for (let k = 0; k < n; k++) {
    for (let c = 0; c < 3; c++) {
      const v = lab[3 * (from + k) + c];
      mean[c] += v / n;
      slope[c] += ((k - (n - 1) / 2) * v) / spread;
    }
  }
  return { mean, slope };
}
