import { describe, expect, test } from 'vitest';
import { forbiddenOnLine } from '../../../src/core/lay/nofit/forbidden-on-line.js';
import { noFit, overlapAt } from '../../../src/core/lay/nofit/no-fit.js';
import { ringOf } from '../../../src/core/lay/nofit/ring.js';
import type { Point } from '../../../src/core/math/matrix3.js';
import { sharedAreaMm2 } from '../../../src/core/pieces/geometry/polygons.js';
import { seededRandom } from '../../support/photo-painter/seeded-random.js';

/** A star-shaped outline, mostly not convex, either winding. */
function star(draw: () => number): Point[] {
  const corners = 3 + Math.floor(draw() * 9);
  const points = Array.from({ length: corners }, (_, k): Point => {
    const angle = (2 * Math.PI * (k + 0.8 * draw())) / corners;
    const reach = 20 + 80 * draw();
    return [reach * Math.cos(angle), reach * Math.sin(angle)];
  });
  return draw() < 0.5 ? points : points.reverse();
}

describe('where one outline may not lie beside another', () => {
  const draw = seededRandom(11).uniform;

  // Against the polygon library, which cuts outlines where this never does.
  test('is where the two have area in common', () => {
    for (let k = 0; k < 150; k++) {
      const [fixed, moving] = [star(draw), star(draw)];
      const between = noFit(ringOf(fixed), ringOf(moving));
      const line = 220 * (draw() - 0.5);
      const axis = k % 2 === 0 ? 0 : 1;
      const out = new Float64Array(64);
      const end = forbiddenOnLine(between, axis, line, out, 0);
      for (let t = 0; t < 6; t++) {
        const at = 300 * (draw() - 0.5);
        const [x, y] = axis === 0 ? [line, at] : [at, line];
        const area = sharedAreaMm2(
          fixed,
          moving.map(([px, py]): Point => [px + x, py + y]),
        );
        let isForbidden = false;
        for (let i = 0; i < end; i += 2) isForbidden ||= at > out[i] && at < out[i + 1];
        const depth = overlapAt(between, x, y);
        // A sliver of common area is a hair from touching.
        if (area > 0.01) expect({ isForbidden, deep: depth > 0 }).toEqual({ isForbidden: true, deep: true });
        if (area === 0) expect(depth).toBeLessThan(1e-3);
      }
    }
  });

  test('is left by a shift as long as it is deep, and by no shorter one', () => {
    for (let k = 0; k < 60; k++) {
      const between = noFit(ringOf(star(draw)), ringOf(star(draw)));
      const [x, y] = [100 * (draw() - 0.5), 100 * (draw() - 0.5)];
      const depth = overlapAt(between, x, y);
      if (depth === 0) continue;
      let leaves = false;
      for (let turn = 0; turn < 720; turn++) {
        const [dx, dy] = [Math.cos((turn * Math.PI) / 360), Math.sin((turn * Math.PI) / 360)];
        expect(overlapAt(between, x + 0.999 * depth * dx, y + 0.999 * depth * dy)).toBeGreaterThan(0);
        // The way out lies within a quarter of a degree of one of these.
        leaves ||= overlapAt(between, x + 1.001 * depth * dx, y + 1.001 * depth * dy) < 2e-3 * depth;
      }
      expect(leaves).toBe(true);
    }
  });
});
