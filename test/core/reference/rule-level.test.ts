import { describe, expect, it } from 'vitest';
import type { Tick } from '../../../src/core/reference/read-ticks.js';
import { levelOf } from '../../../src/core/reference/rule-level.js';
import { seededRandom } from '../../support/photo-painter/seeded-random.js';

const rankOf = (k: number): number => (k % 10 === 0 ? 2 : k % 5 === 0 ? 1 : 0);
const LENGTHS = [20, 30, 45];
const MIDDLE = 800;

/** Ticks 8 px apart on a rule whose level is a parabola about MIDDLE; lines along it may turn towards each other with depth. */
function ticksOn(slope: number, bend: number, meeting = 0, noise = 0, worn = 0, seed = 2): Tick[] {
  const random = seededRandom(seed);
  return Array.from({ length: 201 }, (_, k) => {
    const s = 8 * k;
    const level = (depth: number): number =>
      depth + (slope + meeting * depth) * (s - MIDDLE) + bend * (s - MIDDLE) ** 2;
    const tip = random.uniform() < worn ? 8 : LENGTHS[rankOf(k)];
    return {
      k,
      s,
      from: level(0) + noise * random.gaussian(),
      to: level(tip) + noise * random.gaussian(),
    };
  });
}

describe('levelOf', () => {
  it.each([
    [0.012, 0],
    [-0.02, 3e-6],
    [0, -5e-6],
  ])('finds a slope of %d and a bend of %d as they are', (slope, bend) => {
    const level = levelOf(ticksOn(slope, bend), rankOf, 10, MIDDLE, 3000);
    expect(level.slope).toBeCloseTo(slope, 6);
    expect(level.bend).toBeCloseTo(bend, 9);
  });

  it('keeps a fiftieth of a degree and a tenth of a pixel of bend where ends are a pixel off and one in six is worn', () => {
    const { slope, bend, sdPx } = levelOf(ticksOn(0.015, 2e-6, 0, 1, 0.17), rankOf, 10, MIDDLE, 3000);
    expect(Math.abs(slope - 0.015)).toBeLessThan(Math.PI / 180 / 50);
    expect(Math.abs(bend - 2e-6) * MIDDLE ** 2).toBeLessThan(0.3);
    expect(sdPx).toBeGreaterThan(0.7);
    expect(sdPx).toBeLessThan(1.6);
  });

  it('tells the slope at the depth asked for where lines along the rule meet', () => {
    // A tilt of ten degrees square to the rule, 3000 px of focal length.
    const meeting = Math.tan((10 * Math.PI) / 180) / 3000;
    const ticks = ticksOn(0.01, 0, meeting);
    for (const depth of [0, 10, 40]) {
      const { slope } = levelOf(ticks, rankOf, depth, MIDDLE, 3000);
      expect(Math.abs(slope - (0.01 + meeting * depth))).toBeLessThan(2e-4);
    }
  });

  it('tells nothing by a handful of ticks', () => {
    expect(levelOf(ticksOn(0.01, 0).slice(0, 9), rankOf, 10, MIDDLE, 3000)).toEqual({
      slope: 0,
      bend: 0,
      sdPx: Infinity,
    });
  });
});
