import { determinant, Matrix, solve } from 'ml-matrix';
import { describe, expect, it } from 'vitest';
import { driftingFit } from '../../../src/core/math/drifting-fit.js';
import { seededRandom } from '../../support/photo-painter/seeded-random.js';

describe('least squares whose errors scatter and drift', () => {
  const random = seededRandom(12);
  const n = 20;
  const values = Array.from({ length: n }, (_, k) => 3 * k + random.gaussian());
  const columns = [
    Array.from({ length: n }, (_, k) => (k % 2 === 0 ? 1 : 0)),
    Array.from({ length: n }, (_, k) => (k % 2 === 1 ? 1 : 0)),
    Array.from({ length: n }, (_, k) => k),
  ];
  const scatter = Array.from({ length: n }, (_, k) => 0.5 + 0.1 * (k % 3));
  const steps = Array.from({ length: n }, (_, k) => 0.2 + 0.05 * (k % 4));

  it('agrees with generalised least squares by whole matrices (ml-matrix)', () => {
    const V = Matrix.zeros(n, n);
    for (let i = 0; i < n; i++) {
      for (let j = 0; j < n; j++) {
        let walk = 0;
        for (let k = 0; k < Math.min(i, j); k++) walk += steps[k];
        V.set(i, j, walk + (i === j ? scatter[i] : 0));
      }
    }
    const X = new Matrix(columns).transpose();
    const y = Matrix.columnVector(values);
    const XtVinvX = X.transpose().mmul(solve(V, X));
    const b = solve(XtVinvX, X.transpose().mmul(solve(V, y)));
    const rest = Matrix.sub(y, X.mmul(b));
    const squares = rest.transpose().mmul(solve(V, rest)).get(0, 0);
    const logDet = (M: Matrix): number => Math.log(determinant(M));
    const fit = driftingFit(values, columns, scatter, steps);
    expect(fit.restSquares).toBeCloseTo(squares, 9);
    expect(fit.logDeterminant).toBeCloseTo(logDet(V) + logDet(XtVinvX), 9);
  });

  it('counts a column that follows from others for nothing', () => {
    const twice = [...columns, columns[2].map((v) => 2 * v + 1)];
    const one = driftingFit(values, columns, scatter, steps);
    const two = driftingFit(values, twice, scatter, steps);
    expect(two.restSquares).toBeCloseTo(one.restSquares, 9);
    expect(two.logDeterminant).toBeCloseTo(one.logDeterminant, 9);
  });
});
