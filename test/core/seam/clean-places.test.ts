import { describe, expect, it } from 'vitest';
import type { HalfOnCloth } from '../../../src/core/model/half-on-cloth.js';
import {
  bestCrossing,
  cleanPlaces,
  crossingAt,
  motifEdgesCut,
  type SeamLine,
  seamLineOf,
} from '../../../src/core/seam/clean-places.js';
import type { MotifLattice } from '../../../src/core/seam/motif-mirrors.js';

/** One square of 8 mm in the middle of a band of 20 mm, every 40 mm along, half a step on in the next repeat of 60 mm. */
const LATTICE: MotifLattice = {
  acrossMm: 60,
  alongMm: 40,
  dropMm: 20,
  dots: [{ colour: 'A', u: 10, v: 5, extent: [8, 8], mirrors: { across: null, along: null } }],
};
const BAND = { fromUMm: 0, toUMm: 20 };
const SQUARE: SeamLine = { angleDeg: 90, slope: 0 };
const SLANTED: SeamLine = { angleDeg: 45, slope: 1 };

const half = (vMm: number, perY: readonly [number, number]): HalfOnCloth => ({
  uMm: 0,
  uPerX: -perY[1],
  uPerY: perY[0],
  vMm,
  vPerX: perY[0],
  vPerY: perY[1],
});

/** By brute force: does the line through (10, v) come within `clear` of a square of the lattice, inside the band? */
function meets(v: number, { slope }: SeamLine, clear: number): boolean {
  for (let k = 0; k <= 400; k++) {
    const u = k / 20;
    const y = v + (u - 10) * slope;
    const off = Math.abs(y - 5 - 40 * Math.round((y - 5) / 40));
    const du = Math.max(0, Math.abs(u - 10) - 4 - 1e-9);
    if (du === 0 && Math.max(0, off - 4) * Math.cos(Math.atan(slope)) < clear - 1e-6) return true;
  }
  return false;
}

describe('clean places', () => {
  it('are what the motif leaves of a repeat, in closed form', () => {
    // Square to the stripes the square of 8 mm and 5 mm on either side are out: 22 of 40 mm are left.
    expect(cleanPlaces(LATTICE, BAND, SQUARE, 5)).toEqual([{ fromMm: 14, toMm: 36 }]);
    // At 45 degrees it takes 16 mm, and the margin 5 sqrt 2 on either side.
    const [only, ...more] = cleanPlaces(LATTICE, BAND, SLANTED, 5);
    expect(more).toEqual([]);
    expect(only.toMm - only.fromMm).toBeCloseTo(40 - 16 - 10 * Math.SQRT2, 9);
  });

  it('agree with a search point by point', () => {
    for (const seam of [SQUARE, SLANTED, { angleDeg: 60, slope: -1 / Math.sqrt(3) }]) {
      const places = cleanPlaces(LATTICE, BAND, seam, 3);
      for (let v = -40; v < 40; v += 0.37) {
        const inside = places.some(({ fromMm, toMm }) =>
          [-40, 0, 40].some((lift) => v + lift > fromMm && v + lift < toMm),
        );
        expect([v, inside]).toEqual([v, !meets(v, seam, 3)]);
      }
    }
  });

  it('are the whole repeat where no motif touches the band, and none where the margin is too wide', () => {
    expect(cleanPlaces(LATTICE, { fromUMm: 30, toUMm: 50 }, SLANTED, 5)).toEqual([{ fromMm: 0, toMm: 40 }]);
    expect(cleanPlaces(LATTICE, BAND, SQUARE, 17)).toEqual([]);
  });

  it('move with the drop from one repeat to the next', () => {
    const [first] = cleanPlaces(LATTICE, BAND, SQUARE, 5);
    const [next] = cleanPlaces(LATTICE, { fromUMm: 60, toUMm: 80 }, SQUARE, 5);
    const apart = next.fromMm - first.fromMm - 20;
    expect(apart - 40 * Math.round(apart / 40)).toBeCloseTo(0, 9);
  });
});

describe('crossings', () => {
  it('count the outlines a seam crosses', () => {
    // Across three repeats at v = 5: columns 0 and 2 are met, column 1 lies half a step off.
    expect(motifEdgesCut(LATTICE, half(5, [1, 0]), 180)).toBe(4);
    // Ending inside the first square: one outline.
    expect(motifEdgesCut(LATTICE, half(5, [1, 0]), 10)).toBe(1);
    // Between the squares of every column: none.
    expect(motifEdgesCut(LATTICE, half(15, [1, 0]), 180)).toBe(0);
  });

  it('count a colour inside another colour of the same motif no second time', () => {
    const eye = { ...LATTICE.dots[0], colour: 'B', extent: [2, 2] as const };
    const withEye = { ...LATTICE, dots: [...LATTICE.dots, eye] };
    expect(motifEdgesCut(withEye, half(5, [1, 0]), 180)).toBe(4);
  });

  it('choose the clean place whose seam cuts least, with most room', () => {
    const best = bestCrossing(LATTICE, BAND, half(0, [1, 0]), 180, 3);
    expect(best.motifEdgesCut).toBe(0);
    expect(best.clearanceMm).toBeGreaterThan(3);
    const through = crossingAt(LATTICE, BAND, half(0, [1, 0]), 180, 5);
    expect(through.clearanceMm).toBeLessThan(0);
  });

  it('read the seam from where a half lies', () => {
    const s = Math.SQRT1_2;
    const seam = seamLineOf(half(0, [s, -s]));
    expect(seam.angleDeg).toBeCloseTo(45, 9);
    expect(seam.slope).toBeCloseTo(-1, 9);
  });
});
