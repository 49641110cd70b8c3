/** What is left of values after a least-squares fit whose errors scatter and drift. */
export interface DriftingFit {
  /** What the fit leaves of each value, made independent and in units of its standard deviation. */
  readonly rest: Float64Array;
  /** Sum of its squares. */
  readonly restSquares: number;
  /** log det V + log det X' V^-1 X: what the restricted likelihood takes off besides. */
  readonly logDeterminant: number;
}

/**
 * Generalised least squares of `values` on `columns`, where the error of value k is a scatter of its own, variance
 * scatter[k] > 0, and a random walk that starts at nought and moves by a step of variance steps[k] from value k to the next.
 * Errors are made independent one after another, as a Kalman filter's innovations are (Harvey 1989, Forecasting, Structural
 * Time Series Models, section 3.4), so that the work grows with the number of values and not with its cube. A column that
 * follows from those before it counts for nothing.
 */
export function driftingFit(
  values: ArrayLike<number>,
  columns: readonly ArrayLike<number>[],
  scatter: ArrayLike<number>,
  steps: ArrayLike<number>,
): DriftingFit {
  const n = values.length;
  const gain = new Float64Array(n);
  const spread = new Float64Array(n);
  let logDeterminant = 0;
  let variance = 0;
  for (let k = 0; k < n; k++) {
    const before = k === 0 ? 0 : variance + steps[k - 1];
    const all = before + scatter[k];
    gain[k] = before / all;
    spread[k] = Math.sqrt(all);
    variance = before * (1 - gain[k]);
    logDeterminant += Math.log(all);
  }
  const whitened = (column: ArrayLike<number>): Float64Array => {
    const out = new Float64Array(n);
    let level = 0;
    for (let k = 0; k < n; k++) {
      const surprise = column[k] - level;
      out[k] = surprise / spread[k];
      level += gain[k] * surprise;
    }
    return out;
  };
  const basis: Float64Array[] = [];
  for (const column of columns) {
    const rest = whitened(column);
    const whole = dot(rest, rest);
    for (const direction of basis) takeOff(rest, direction);
    const left = dot(rest, rest);
    if (!(left > 1e-12 * whole)) continue;
    logDeterminant += Math.log(left);
    const length = Math.sqrt(left);
    basis.push(rest.map((v) => v / length));
  }
  const rest = whitened(values);
  for (const direction of basis) takeOff(rest, direction);
  return { rest, restSquares: dot(rest, rest), logDeterminant };
}

function dot(a: Float64Array, b: Float64Array): number {
  let sum = 0;
  for (let k = 0; k < a.length; k++) sum += a[k] * b[k];
  return sum;
}

function takeOff(from: Float64Array, direction: Float64Array): void {
  const part = dot(from, direction);
  for (let k = 0; k < from.length; k++) from[k] -= part * direction[k];
}
