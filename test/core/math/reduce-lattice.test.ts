import { describe, expect, it } from 'vitest';
import type { Point } from '../../../src/core/math/matrix3.js';
import { reducedBasis, uprightBasis } from '../../../src/core/math/reduce-lattice.js';
import { seededRandom } from '../../support/photo-painter/seeded-random.js';

const length = ([x, y]: Point): number => Math.hypot(x, y);
const area = (p: Point, q: Point): number => Math.abs(p[0] * q[1] - p[1] * q[0]);
const plus = (p: Point, q: Point, m = 1, n = 1): Point => [m * p[0] + n * q[0], m * p[1] + n * q[1]];

/** Whole numbers m, n with vector = m p + n q, or how far they are from whole. */
function offLattice(vector: Point, p: Point, q: Point): number {
  const whole = p[0] * q[1] - p[1] * q[0];
  const m = (vector[0] * q[1] - vector[1] * q[0]) / whole;
  const n = (p[0] * vector[1] - p[1] * vector[0]) / whole;
  return Math.max(Math.abs(m - Math.round(m)), Math.abs(n - Math.round(n)));
}

/** The two shortest independent lengths, by trying all combinations. */
function shortestByTrying(p: Point, q: Point, reach: number): [number, number] {
  const all: Point[] = [];
  for (let m = -reach; m <= reach; m++)
    for (let n = -reach; n <= reach; n++) if (m !== 0 || n !== 0) all.push(plus(p, q, m, n));
  all.sort((a, b) => length(a) - length(b));
  const second = all.find((v) => area(all[0], v) > 1e-9 * length(all[0]) * length(v)) as Point;
  return [length(all[0]), length(second)];
}

/** Bases of drawn lattices, made long and slanting by whole multiples of each other. */
function drawnBases(count: number): [Point, Point][] {
  const random = seededRandom(11);
  return Array.from({ length: count }, () => {
    let p: Point = [random.between(5, 60), random.between(-20, 20)];
    let q: Point = [random.between(-20, 20), random.between(5, 60)];
    for (let k = 0; k < 2; k++) {
      p = plus(p, q, 1, Math.round(random.between(-3, 3)));
      q = plus(q, p, 1, Math.round(random.between(-3, 3)));
    }
    return [p, q];
  });
}

describe('reducedBasis', () => {
  it('reduces the worked case of a textbook: 66586820 65354729, 6513996 6393464', () => {
    // Hoffstein, Pipher and Silverman, An Introduction to Mathematical Cryptography, the example of Gauss's reduction.
    const found = reducedBasis([66586820, 65354729], [6513996, 6393464]);
    const [short, long] = found as [Point, Point];
    expect([Math.abs(short[0]), Math.abs(short[1])]).toEqual([2280, 1001]);
    expect([Math.abs(long[0]), Math.abs(long[1])]).toEqual([1324, 2376]);
    expect(area(short, long)).toBe(6742604);
  });

  it('finds the hexagon, the square and the half-drop in any dress (closed forms)', () => {
    const hexagon: [Point, Point] = [
      [1, 0],
      [0.5, Math.sqrt(3) / 2],
    ];
    const [a, b] = reducedBasis(plus(...hexagon, 7, 3), plus(...hexagon, 2, 1)) as [Point, Point];
    expect(length(a)).toBeCloseTo(1, 9);
    expect(length(b)).toBeCloseTo(1, 9);
    const [c, d] = reducedBasis([31, 12], [18, 7]) as [Point, Point];
    expect([length(c), length(d)]).toEqual([1, 1]);
    // 48 across and 52 along by half-drop: the nearest is diagonal, 48 and 26.
    const [e, f] = reducedBasis([0, 52], [48, 26]) as [Point, Point];
    expect([length(e), length(f)]).toEqual([52, Math.hypot(48, 26)]);
  });

  it('keeps the lattice and its cell, and finds its shortest vectors (all combinations tried)', () => {
    for (const [p, q] of drawnBases(40)) {
      const [short, long] = reducedBasis(p, q) as [Point, Point];
      expect(area(short, long) / area(p, q)).toBeCloseTo(1, 9);
      for (const v of [short, long]) expect(offLattice(v, p, q)).toBeLessThan(1e-6);
      const [least, next] = shortestByTrying(short, long, 4);
      expect(length(short)).toBeCloseTo(least, 9);
      expect(length(long)).toBeCloseTo(next, 9);
      const tried = shortestByTrying(p, q, 30);
      expect(length(short)).toBeLessThanOrEqual(tried[0] + 1e-9);
      expect(Math.abs(short[0] * long[0] + short[1] * long[1])).toBeLessThanOrEqual(
        length(short) ** 2 / 2 + 1e-9,
      );
      expect(reducedBasis(short, long)).toEqual([short, long]);
    }
  });

  it('is null for vectors along one line', () => {
    expect(reducedBasis([3, 6], [1, 2])).toBeNull();
    expect(reducedBasis([0, 0], [1, 2])).toBeNull();
  });
});

describe('uprightBasis', () => {
  it('tells a drop of a third from its diagonals', () => {
    const found = uprightBasis([1, 30], [2, -30]);
    expect(found).toEqual({ along: 90, columns: 1, shift: 30 });
  });

  it('spans the same lattice, whatever its basis', () => {
    const random = seededRandom(3);
    for (let k = 0; k < 40; k++) {
      const columns = 1 + Math.floor(random.between(0, 4));
      const along = random.between(10, 90);
      const shift = random.between(0, along);
      const basis: [Point, Point] = [
        [0, along],
        [columns, shift],
      ];
      const p = plus(...basis, Math.round(random.between(-4, 4)), 2);
      const q = plus(p, plus(...basis, 1, 1), 1, 1);
      // Only those of the same cell span it.
      const times = Math.round(area(p, q) / (columns * along));
      const found = uprightBasis(p, q);
      if (times === 0) {
        expect(found).toBeNull();
        continue;
      }
      if (!found) throw new Error('no basis');
      expect(found.columns * found.along).toBeCloseTo(times * columns * along, 6);
      for (const v of [
        [0, found.along],
        [found.columns, found.shift],
      ] as Point[])
        expect(offLattice(v, p, q)).toBeLessThan(1e-6);
    }
  });
});
