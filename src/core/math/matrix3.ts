/** A point of the plane, [x, y]; its frame and unit are told by the name that holds it. */
export type Point = readonly [number, number];

/** Row-major 3 x 3 matrix. Named by its frames: `clothFromPhoto` takes photo points to cloth points. */
export type Matrix3 = readonly [number, number, number, number, number, number, number, number, number];

export const identity3: Matrix3 = [1, 0, 0, 0, 1, 0, 0, 0, 1];

/** cFromA = multiply3(cFromB, bFromA). */
export function multiply3(m: Matrix3, n: Matrix3): Matrix3 {
  return [
    m[0] * n[0] + m[1] * n[3] + m[2] * n[6],
    m[0] * n[1] + m[1] * n[4] + m[2] * n[7],
    m[0] * n[2] + m[1] * n[5] + m[2] * n[8],
    m[3] * n[0] + m[4] * n[3] + m[5] * n[6],
    m[3] * n[1] + m[4] * n[4] + m[5] * n[7],
    m[3] * n[2] + m[4] * n[5] + m[5] * n[8],
    m[6] * n[0] + m[7] * n[3] + m[8] * n[6],
    m[6] * n[1] + m[7] * n[4] + m[8] * n[7],
    m[6] * n[2] + m[7] * n[5] + m[8] * n[8],
  ];
}

export const determinant3 = (m: Matrix3): number =>
  m[0] * (m[4] * m[8] - m[5] * m[7]) -
  m[1] * (m[3] * m[8] - m[5] * m[6]) +
  m[2] * (m[3] * m[7] - m[4] * m[6]);

/** aFromB = invert3(bFromA). Throws RangeError when the matrix squeezes the plane flat. */
export function invert3(m: Matrix3): Matrix3 {
  const det = determinant3(m);
  if (det === 0 || !Number.isFinite(det)) {
    throw new RangeError(`matrix inverse: expected a determinant other than 0, received ${det}`);
  }
  const k = 1 / det;
  return [
    k * (m[4] * m[8] - m[5] * m[7]),
    k * (m[2] * m[7] - m[1] * m[8]),
    k * (m[1] * m[5] - m[2] * m[4]),
    k * (m[5] * m[6] - m[3] * m[8]),
    k * (m[0] * m[8] - m[2] * m[6]),
    k * (m[2] * m[3] - m[0] * m[5]),
    k * (m[3] * m[7] - m[4] * m[6]),
    k * (m[1] * m[6] - m[0] * m[7]),
    k * (m[0] * m[4] - m[1] * m[3]),
  ];
}

/** The point's image, divided through by its third coordinate. */
export function transformPoint(bFromA: Matrix3, [x, y]: Point): Point {
  const w = bFromA[6] * x + bFromA[7] * y + bFromA[8];
  return [(bFromA[0] * x + bFromA[1] * y + bFromA[2]) / w, (bFromA[3] * x + bFromA[4] * y + bFromA[5]) / w];
}

/**
 * How the map stretches at one point of a: [db0/da0, db0/da1, db1/da0, db1/da1], in units of b per unit of a.
 * The square root of its determinant is the local scale.
 */
export function stretchAt(bFromA: Matrix3, pointInA: Point): readonly [number, number, number, number] {
  const [x, y] = pointInA;
  const w = bFromA[6] * x + bFromA[7] * y + bFromA[8];
  const [bx, by] = transformPoint(bFromA, pointInA);
  return [
    (bFromA[0] - bx * bFromA[6]) / w,
    (bFromA[1] - bx * bFromA[7]) / w,
    (bFromA[3] - by * bFromA[6]) / w,
    (bFromA[4] - by * bFromA[7]) / w,
  ];
}
