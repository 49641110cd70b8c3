import { describe, expect, it } from 'vitest';
import type { Point } from '../../../src/core/math/matrix3.js';
import { outlineOf } from '../../../src/core/trace/outline/outline-of.js';
import { seededRandom } from '../../support/photo-painter/seeded-random.js';

/** Places every half mm along a closed polygon, clockwise as edges are followed, each a little off. */
function placesAlong(corners: readonly Point[], noiseMm: number): Point[] {
  const random = seededRandom(4);
  const places = corners.flatMap((a, k) => {
    const b = corners[(k + 1) % corners.length];
    const steps = Math.round(2 * Math.hypot(b[0] - a[0], b[1] - a[1]));
    return Array.from({ length: steps }, (_, i): Point => {
      const t = i / steps;
      return [
        a[0] + t * (b[0] - a[0]) + noiseMm * random.gaussian(),
        a[1] + t * (b[1] - a[1]) + noiseMm * random.gaussian(),
      ];
    });
  });
  return places.reverse();
}

const areaOf = (p: readonly Point[]): number =>
  p.reduce((sum, [x, y], k) => sum + x * p[(k + 1) % p.length][1] - p[(k + 1) % p.length][0] * y, 0) / 2;

describe('the outline of traced places', () => {
  it('of a rectangle is four corners with straight sides between', () => {
    const { outline, corners, notches } = outlineOf(
      placesAlong(
        [
          [0, 0],
          [200, 0],
          [200, 90],
          [0, 90],
        ],
        0.06,
      ),
    );
    expect(corners).toHaveLength(4);
    expect(outline).toHaveLength(4);
    expect(notches).toHaveLength(0);
    expect(areaOf(outline)).toBeGreaterThan(0);
    expect(Math.abs(areaOf(outline) / 18000 - 1)).toBeLessThan(0.001);
    for (const { turnDeg } of corners) expect(Math.abs(turnDeg - 90)).toBeLessThan(1);
  });

  it('of a circle has no corner, and the area of the circle', () => {
    const ring = Array.from({ length: 720 }, (_, k): Point => {
      const a = (-2 * Math.PI * k) / 720;
      return [60 * Math.cos(a), 60 * Math.sin(a)];
    });
    const { outline, corners } = outlineOf(ring);
    expect(corners).toHaveLength(0);
    expect(Math.abs(areaOf(outline) / (Math.PI * 3600) - 1)).toBeLessThan(0.002);
  });

  it('runs straight over a V of 6 by 6 mm and says where it was; a dart of 15 mm is shape', () => {
    const withV = outlineOf(
      placesAlong(
        [
          [0, 0],
          [97, 0],
          [100, 6],
          [103, 0],
          [200, 0],
          [200, 90],
          [0, 90],
        ],
        0.05,
      ),
    );
    expect(withV.corners).toHaveLength(4);
    expect(withV.notches).toHaveLength(1);
    expect(Math.hypot(withV.notches[0][0] - 100, withV.notches[0][1])).toBeLessThan(0.7);
    expect(Math.abs(areaOf(withV.outline) / 18000 - 1)).toBeLessThan(0.001);
    const withDart = outlineOf(
      placesAlong(
        [
          [0, 0],
          [94, 0],
          [100, 15],
          [106, 0],
          [200, 0],
          [200, 90],
          [0, 90],
        ],
        0.05,
      ),
    );
    expect(withDart.notches).toHaveLength(0);
    expect(withDart.corners).toHaveLength(7);
    const point = withDart.corners.find(({ at }) => at[1] > 5 && at[1] < 40);
    expect(Math.hypot((point?.at[0] ?? 0) - 100, (point?.at[1] ?? 0) - 15)).toBeLessThan(1);
  });
});
