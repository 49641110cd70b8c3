import { Matrix, SingularValueDecomposition } from 'ml-matrix';
import { leastSquares } from './levenberg-marquardt.js';
import { invert3, type Matrix3, multiply3, type Point, transformPoint } from './matrix3.js';

/**
 * The projective map that takes each point of a to its partner in b with the least sum of squared distances in b;
 * exact for four pairs. Name the result by its frames: `sheetFromPhoto = homographyFromPoints(photo, sheet)`.
 * Third row scaled so that the last element is 1 where it can be.
 *
 * Null when the pairs do not fix a map: three of four on one line, or all but one of more.
 * Throws RangeError for fewer than four pairs or lists of unequal length.
 *
 * Start for more than four: the normalised direct linear transform (Hartley, "In defense of the eight-point algorithm", TPAMI 19(6),
 * 1997, doi 10.1109/34.601246); then Levenberg-Marquardt on the distances, which the linear start does not weigh evenly.
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

  const start = a.length > 4 ? directLinear(a, b) : throughFourPairs(a, b);
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

/** Four pairs fix the map: through the frame of four points that have simple coordinates in it. */
function throughFourPairs(a: readonly Point[], b: readonly Point[]): Matrix3 | null {
  const aFromFrame = fromFrame(a);
  const bFromFrame = fromFrame(b);
  return aFromFrame && bFromFrame && multiply3(bFromFrame, invert3(aFromFrame));
}

/**
 * The map that takes (1,0,0), (0,1,0), (0,0,1) and (1,1,1) to four points; null when three of them lie on a line. The
 * points are about 1 apart.
 */
function fromFrame([p, q, r, s]: readonly Point[]): Matrix3 | null {
  const area = (u: Point, v: Point, w: Point): number =>
    (v[0] - u[0]) * (w[1] - u[1]) - (v[1] - u[1]) * (w[0] - u[0]);
  const whole = area(p, q, r);
  // s = k p + m q + n r, up to the common factor `whole`.
  const [k, m, n] = [area(s, q, r), area(p, s, r), area(p, q, s)];
  if (Math.min(Math.abs(whole), Math.abs(k), Math.abs(m), Math.abs(n)) < 1e-9) return null;
  return [k * p[0], m * q[0], n * r[0], k * p[1], m * q[1], n * r[1], k, m, n];
}

function directLinear(a: readonly Point[], b: readonly Point[]): Matrix3 | null {
  const rows = a.flatMap(([x, y], i) => {
    const [u, v] = b[i];
    return [
      [x, y, 1, 0, 0, 0, -u * x, -u * y, -u],
      [0, 0, 0, x, y, 1, -v * x, -v * y, -v],
    ];
  });
  const svd = new SingularValueDecomposition(new Matrix(rows), {
    computeLeftSingularVectors: false,
    computeRightSingularVectors: true,
  });
  // A second vanishing singular value means a whole family of maps fits.
  if (svd.diagonal[7] < 1e-9 * svd.diagonal[0]) return null;
  const h = svd.rightSingularVectors.getColumn(8) as unknown as Matrix3;
  // Rank 8 but flat: all but one of the points on one line.
  const flat = new SingularValueDecomposition(
    new Matrix([
      [h[0], h[1], h[2]],
      [h[3], h[4], h[5]],
      [h[6], h[7], h[8]],
    ]),
  ).diagonal;
  return flat[2] < 1e-9 * flat[0] ? null : h;
}

function refine(start: Matrix3, a: readonly Point[], b: readonly Point[]): Matrix3 {
  // The element that is held must not be nought: the largest never is.
  const held = start.reduce((best, v, i) => (Math.abs(v) > Math.abs(start[best]) ? i : best), 0);
  const whole = (free: readonly number[]): Matrix3 =>
    [...free.slice(0, held), start[held], ...free.slice(held)] as unknown as Matrix3;
  const { parameters } = leastSquares(
    start.filter((_, i) => i !== held),
    2 * a.length,
    (free, out) => {
      const bFromA = whole(free);
      a.forEach((p, i) => {
        const [x, y] = transformPoint(bFromA, p);
        out[2 * i] = x - b[i][0];
        out[2 * i + 1] = y - b[i][1];
      });
    },
    // Coordinates are about 1 here, and so is the matrix.
    { steps: new Array(8).fill(1e-7) },
  );
  return whole(parameters);
}
