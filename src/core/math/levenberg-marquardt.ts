import { CholeskyDecomposition, Matrix } from 'ml-matrix';

/** A round that gains less than this part of the cost moves no parameter by a hundredth of its standard deviation. */
const ENOUGH = 1e-8;

export interface LeastSquaresOptions {
  /** Step for the numerical Jacobian, one a parameter. */
  readonly steps: readonly number[];
  /** Default 30. */
  readonly rounds?: number;
}

/**
 * Least squares by Levenberg-Marquardt with a numerical Jacobian (Marquardt 1963, doi 10.1137/0111030).
 *
 * `residualsOf` fills `out` (length `count`) for the parameters given; it must be smooth. Returns the parameters, the
 * half sum of squares, and the parameters' covariance for residuals of unit variance (null where singular).
 */
export function leastSquares(
  start: readonly number[],
  count: number,
  residualsOf: (parameters: readonly number[], out: Float64Array) => unknown,
  { steps, rounds = 30 }: LeastSquaresOptions,
): { parameters: number[]; cost: number; normal: Matrix } {
  const m = start.length;
  let parameters = [...start];
  let residuals = new Float64Array(count);
  let trial = new Float64Array(count);
  residualsOf(parameters, residuals);
  let cost = halfSquares(residuals);
  let damping = 1;
  const columns = start.map(() => new Float64Array(count));
  let normal = Matrix.zeros(m, m);
  for (let round = 0; round < rounds; round++) {
    for (let j = 0; j < m; j++) {
      const moved = [...parameters];
      moved[j] += steps[j];
      residualsOf(moved, columns[j]);
      toSlopes(columns[j], residuals, steps[j]);
    }
    normal = Matrix.zeros(m, m);
    const gradient = Matrix.zeros(m, 1);
    for (let j = 0; j < m; j++) {
      for (let k = j; k < m; k++) {
        const v = dot(columns[j], columns[k]);
        normal.set(j, k, v);
        normal.set(k, j, v);
      }
      gradient.set(j, 0, -dot(columns[j], residuals));
    }
    // To unit diagonal: the parameters' units differ by many powers of ten, and what is smallest would drown.
    const units = Array.from({ length: m }, (_, j) => Math.sqrt(Math.max(1e-300, normal.get(j, j))));
    const scaled = Matrix.zeros(m, m);
    for (let j = 0; j < m; j++)
      for (let k = 0; k < m; k++) scaled.set(j, k, normal.get(j, k) / (units[j] * units[k]));
    for (let j = 0; j < m; j++) gradient.set(j, 0, gradient.get(j, 0) / units[j]);
    let gained = 0;
    for (let attempt = 0; attempt < 8; attempt++) {
      for (let j = 0; j < m; j++) scaled.set(j, j, 1 + damping);
      const factors = new CholeskyDecomposition(scaled);
      if (factors.isPositiveDefinite()) {
        const step = factors.solve(gradient);
        const next = parameters.map((p, j) => p + step.get(j, 0) / units[j]);
        residualsOf(next, trial);
        const nextCost = halfSquares(trial);
        if (nextCost <= cost) {
          gained = cost - nextCost;
          parameters = next;
          [residuals, trial] = [trial, residuals];
          cost = nextCost;
          damping = Math.max(1e-12, damping / 10);
          break;
        }
      }
      damping *= 10;
    }
    if (gained <= ENOUGH * cost) break;
  }
  return { parameters, cost, normal };
}

function toSlopes(moved: Float64Array, here: Float64Array, step: number): void {
  for (let i = 0; i < moved.length; i++) moved[i] = (moved[i] - here[i]) / step;
}

function halfSquares(values: Float64Array): number {
  let sum = 0;
  for (let i = 0; i < values.length; i++) sum += values[i] * values[i];
  return Number.isFinite(sum) ? sum / 2 : Infinity;
}

function dot(p: Float64Array, q: Float64Array): number {
  let sum = 0;
  for (let i = 0; i < p.length; i++) sum += p[i] * q[i];
  return sum;
}
