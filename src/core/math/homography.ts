import { Matrix, SingularValueDecomposition, solve } from 'ml-matrix';
import { invert3, type Matrix3, multiply3, type Point, transformPoint } from './matrix3.js';

/**
 * The projective map that takes each point of a to its partner in b with the least sum of squared distances in b;
 * exact for four pairs. Name the result by its frames: `sheetFromPhoto = homographyFromPoints(photo, sheet)`.
 * Third row scaled so that the last element is 1 where it can be.
 *
 * Null when the pairs do not fix a map: three of four on one line, or all of them on one.
 * Throws RangeError for fewer than four pairs or lists of unequal length.
 *
 * Start: the normalised direct linear transform (Hartley, "In defense of the eight-point algorithm", TPAMI 19(6),
 * 1997, doi 10.1109/34.601246); then Gauss-Newton on the distances, which the linear start does not weigh evenly.
 */
export function homographyFromPoints(
  pointsInA: readonly Point[],
  pointsInB: readonly Point[],
): Matrix3 | null {
  if (pointsInA.length < 4 || pointsInA.length !== pointsInB.length) {
    throw new RangeError(
      `homography: expected four or more pairs of points, received ${pointsInA.length} and ${pointsInB.length} points`,
    );
  }
  const unitFromA = centred(pointsInA);
  const unitFromB = centred(pointsInB);
  if (unitFromA === null || unitFromB === null) return null;
  const a = pointsInA.map((p) => transformPoint(unitFromA, p));
  const b = pointsInB.map((p) => transformPoint(unitFromB, p));

  const start = directLinear(a, b);
  if (start === null) return null;
  const refined = a.length > 4 ? refine(start, a, b) : start;
  const bFromA = multiply3(invert3(unitFromB), multiply3(refined, unitFromA));
  const last = bFromA[8];
  if (Math.abs(last) < 1e-12 * Math.hypot(...bFromA)) return bFromA;
  return bFromA.map((v) => v / last) as unknown as Matrix3;
}

/** Moves the points' mean to the origin and their root mean square distance to sqrt(2); null for one point. */
function centred(points: readonly Point[]): Matrix3 | null {
  const n = points.length;
  const mx = points.reduce((sum, p) => sum + p[0], 0) / n;
  const my = points.reduce((sum, p) => sum + p[1], 0) / n;
  const square = points.reduce((sum, p) => sum + (p[0] - mx) ** 2 + (p[1] - my) ** 2, 0) / n;
  if (!(square > 0) || !Number.isFinite(square)) return null;
  const k = Math.SQRT2 / Math.sqrt(square);
  return [k, 0, -k * mx, 0, k, -k * my, 0, 0, 1];
}

function directLinear(a: readonly Point[], b: readonly Point[]): Matrix3 | null {
  const rows = a.flatMap(([x, y], i) => {
    const [u, v] = b[i];
    return [
      [x, y, 1, 0, 0, 0, -u * x, -u * y, -u],
      [0, 0, 0, x, y, 1, -v * x, -v * y, -v],
    ];
  });
  // The decomposition gives as many right vectors as rows: a row of noughts keeps the ninth for four pairs.
  if (rows.length < 9) rows.push(new Array(9).fill(0));
  const svd = new SingularValueDecomposition(new Matrix(rows), {
    computeLeftSingularVectors: false,
    computeRightSingularVectors: true,
  });
  // A second vanishing singular value means a whole family of maps fits.
  if (svd.diagonal[7] < 1e-9 * svd.diagonal[0]) return null;
  const h = svd.rightSingularVectors.getColumn(8) as unknown as Matrix3;
  // Rank 8 but flat: three of four points on one line.
  const flat = new SingularValueDecomposition(
    new Matrix([
      [h[0], h[1], h[2]],
      [h[3], h[4], h[5]],
      [h[6], h[7], h[8]],
    ]),
  ).diagonal;
  return flat[2] < 1e-9 * flat[0] ? null : h;
}

function squaredDistances(bFromA: Matrix3, a: readonly Point[], b: readonly Point[]): number {
  let sum = 0;
  for (let i = 0; i < a.length; i++) {
    const [u, v] = transformPoint(bFromA, a[i]);
    sum += (u - b[i][0]) ** 2 + (v - b[i][1]) ** 2;
  }
  return sum;
}

function refine(start: Matrix3, a: readonly Point[], b: readonly Point[]): Matrix3 {
  // The element that is held must not be nought: the largest never is.
  const held = start.reduce((best, v, i) => (Math.abs(v) > Math.abs(start[best]) ? i : best), 0);
  let best = start;
  let least = squaredDistances(best, a, b);
  for (let step = 0; step < 10; step++) {
    const rows: number[][] = [];
    const misses: number[][] = [];
    for (let i = 0; i < a.length; i++) {
      const [x, y] = a[i];
      const w = best[6] * x + best[7] * y + best[8];
      const [u, v] = transformPoint(best, a[i]);
      const full = [
        [x / w, y / w, 1 / w, 0, 0, 0, (-u * x) / w, (-u * y) / w, -u / w],
        [0, 0, 0, x / w, y / w, 1 / w, (-v * x) / w, (-v * y) / w, -v / w],
      ];
      for (const row of full) rows.push(row.filter((_, k) => k !== held));
      misses.push([b[i][0] - u], [b[i][1] - v]);
    }
    const change = solve(new Matrix(rows), new Matrix(misses)).to1DArray();
    change.splice(held, 0, 0);
    const next = best.map((v, k) => v + change[k]) as unknown as Matrix3;
    const squares = squaredDistances(next, a, b);
    if (!(squares < least * (1 - 1e-12))) break;
    best = next;
    least = squares;
  }
  return best;
}
