import type { Point } from './matrix3.js';

/** Steps beyond which a basis counts as no basis: each step but the last shortens a vector. */
const MOST_STEPS = 200;

/**
 * The shortest basis of the plane lattice of all whole multiples of two vectors, the shorter first: what is left of the longer one
 * when the shorter is taken off as often as brings it nearest, by turns, as in Euclid's algorithm (Lagrange 1773, Gauss 1801;
 * Nguyen and Stehle 2009, doi 10.1145/1597036.1597050). The first is a shortest vector of the lattice, the second a shortest
 * of those not along it; the product of the two is at most half the first one's square, and the cell's area is kept.
 *
 * Null for vectors along one line, which span no plane.
 */
export function reducedBasis(p: Point, q: Point): [Point, Point] | null {
  let [short, long] = square(p) <= square(q) ? [p, q] : [q, p];
  const area = Math.abs(p[0] * q[1] - p[1] * q[0]);
  if (!(area > 1e-12 * square(long))) return null;
  for (let step = 0; step < MOST_STEPS; step++) {
    const times = Math.round((short[0] * long[0] + short[1] * long[1]) / square(short));
    const rest: Point = [long[0] - times * short[0], long[1] - times * short[1]];
    if (square(rest) >= square(short)) return [short, rest];
    [short, long] = [rest, short];
  }
  return null;
}

const square = ([x, y]: Point): number => x * x + y * y;

/** A lattice by what lies straight along: every `columns` columns the next line of its places, `shift` further along. */
export interface UprightBasis {
  readonly along: number;
  readonly columns: number;
  /** [0, along) */
  readonly shift: number;
}

/**
 * The same lattice for two vectors whose first numbers are whole columns: the shortest step straight along, the fewest columns to
 * another line of places, and the shift between (the Hermite normal form, by Euclid's algorithm on the columns). Null for
 * vectors along one line.
 */
export function uprightBasis(p: Point, q: Point): UprightBasis | null {
  let [a, b] = [p, q];
  while (b[0] !== 0) {
    const times = Math.floor(a[0] / b[0]);
    [a, b] = [b, [a[0] - times * b[0], a[1] - times * b[1]]];
  }
  const along = Math.abs(b[1]);
  const columns = Math.abs(a[0]);
  if (columns === 0 || !(along > 1e-9 * Math.max(Math.abs(p[1]), Math.abs(q[1])))) return null;
  const shift = Math.sign(a[0]) * a[1];
  return { along, columns, shift: shift - along * Math.floor(shift / along) };
}
