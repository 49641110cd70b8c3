import { describe, expect, it } from 'vitest';
import type { Point } from '../../../src/core/math/matrix3.js';
import { bridgeHidden } from '../../../src/core/trace/outline/bridge-hidden.js';
import { withoutLoops } from '../../../src/core/trace/outline/without-loops.js';

/** Points along straight sides, 1 mm apart. */
function ring(corners: readonly Point[]): Point[] {
  return corners.flatMap(([x, y], k) => {
    const [u, v] = corners[(k + 1) % corners.length];
    const steps = Math.round(Math.hypot(u - x, v - y));
    return Array.from(
      { length: steps },
      (_, i): Point => [x + (i / steps) * (u - x), y + (i / steps) * (v - y)],
    );
  });
}

const area = (line: readonly Point[]): number =>
  Math.abs(
    line.reduce((sum, [x, y], k) => {
      const [u, v] = line[(k + 1) % line.length];
      return sum + x * v - y * u;
    }, 0) / 2,
  );

const square: readonly Point[] = [
  [0, 0],
  [100, 0],
  [100, 100],
  [0, 100],
];

describe('a line that crosses itself', () => {
  it('loses the small loop, and nothing of a line that does not', () => {
    const plain = ring(square);
    expect(withoutLoops(plain)).toEqual(plain);
    // A knot of 2 mm half-way along the first side, traced the wrong way round.
    const knot: Point[] = [
      [52, 0],
      [52, 2],
      [48, 2],
      [48, -2],
      [50.5, -2],
      [50.5, 0.5],
    ];
    const tied = [...plain.slice(0, 50), ...knot, ...plain.slice(54)];
    const untied = withoutLoops(tied);
    expect(Math.abs(area(untied) - 10_000)).toBeLessThan(12);
    expect(withoutLoops(untied)).toEqual(untied);
  });
});

describe('a drawn line that runs under something', () => {
  it('is carried on straight, and round a corner that is hidden', () => {
    // The traced line goes round a weight of 15 mm radius instead of along the side, and round another instead of the corner.
    const hides = ([x, y]: Point): boolean => Math.hypot(x - 50, y) < 17 || Math.hypot(x - 100, y - 100) < 17;
    const traced = ring(square).map((p): Point => {
      for (const [cx, cy] of [
        [50, 0],
        [100, 100],
      ]) {
        const [dx, dy] = [p[0] - cx, p[1] - cy];
        const r = Math.hypot(dx, dy);
        if (r < 15) return r < 1e-9 ? [cx, cy - 15] : [cx + (15 * dx) / r, cy + (15 * dy) / r];
      }
      return p;
    });
    const { points, hiddenMm } = bridgeHidden(traced, hides);
    expect(
      Math.max(
        ...points.map((p) => Math.min(...ring(square).map((q) => Math.hypot(p[0] - q[0], p[1] - q[1])))),
      ),
    ).toBeLessThan(0.8);
    expect(points.some(([x, y]) => Math.hypot(x - 100, y - 100) < 1)).toBe(true);
    expect(hiddenMm).toBeGreaterThan(34 + 20);
    expect(hiddenMm).toBeLessThan(34 + 30);
  });

  it('is left as it is where nothing hides it', () => {
    const line = ring(square);
    expect(bridgeHidden(line, () => false)).toEqual({ points: line, hiddenMm: 0 });
  });
});
