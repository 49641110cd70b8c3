import { Clipper, FillRule } from 'clipper2-ts';
import { describe, expect, test } from 'vitest';
import type { Point } from '../../../../src/core/math/matrix3.js';
import { repeatedBands } from '../../../../src/core/place/cloth/band-line.js';
import { alikeMeasure, sharesOver } from '../../../../src/core/place/miss/area-misses.js';
import type { AskedCloth, AskedStripes } from '../../../../src/core/place/miss/asked-cloth.js';
import { stateOf } from '../../../../src/core/place/search/problem.js';
import type { CopyShape } from '../../../../src/core/place/shape/copy-shape.js';
import { seededRandom } from '../../../support/photo-painter/seeded-random.js';

const stripes = (widthsMm: readonly number[], colours: readonly number[]): AskedStripes => {
  const cycle = { startMm: 3, widthsMm, colours };
  return {
    line: repeatedBands(cycle, -1000, 1000),
    stripes: {
      cycle,
      periodMm: widthsMm.reduce((sum, width) => sum + width, 0),
      bandIds: widthsMm.map((_, k) => `b${k + 1}`),
      colourIds: ['A', 'B', 'C'],
      colourNames: ['indigo', 'ivory', 'ochre'],
      mirrorAxisMm: null,
      seen: null,
    },
  };
};

/** A piece with a bay, so that strips cross it in several parts. */
const outline: Point[] = [
  [-90, -60],
  [70, -80],
  [90, 75],
  [20, 70],
  [5, -10],
  [-30, 80],
  [-100, 60],
];

const cloth = (along: AskedStripes | null): AskedCloth => ({
  copies: [{ outline } as unknown as CopyShape, { outline } as unknown as CopyShape],
  across: stripes([14, 9, 6, 10], [0, 1, 2, 1]),
  along,
  motifs: null,
});
const check = cloth(stripes([20, 11, 5], [0, 2, 1]));
const option = (across: 1 | -1, along: 1 | -1) => ({ across, along, face: 'right' as const, turned: false });

/** The part of the outline in boxes of the cloth, by a polygon library that shares no code with the strips. */
function areaIn(boxes: readonly (readonly [number, number, number, number])[], ring = outline): number {
  const paths = boxes.map(([p0, q0, p1, q1]) => [
    { x: p0, y: q0 },
    { x: p1, y: q0 },
    { x: p1, y: q1 },
    { x: p0, y: q1 },
  ]);
  const piece = ring.map(([x, y]) => ({ x, y }));
  return Math.abs(Clipper.areaPathsD(Clipper.intersectD([piece], paths, FillRule.NonZero, 6)));
}

/** Strips of a colour in the piece's own coordinate, as boxes far beyond it the other way. */
function stripBoxes(
  { line }: AskedStripes,
  colour: number,
  sign: 1 | -1,
  offsetMm: number,
  isAlong: boolean,
) {
  const boxes: [number, number, number, number][] = [];
  for (let k = 0; k < line.band.length; k++) {
    if (line.colour[k] !== colour) continue;
    const ends = [sign * (line.edgesMm[k] - offsetMm), sign * (line.edgesMm[k + 1] - offsetMm)].sort(
      (a, b) => a - b,
    );
    if (ends[1] < -200 || ends[0] > 200) continue;
    boxes.push(isAlong ? [-500, ends[0], 500, ends[1]] : [ends[0], -500, ends[1], 500]);
  }
  return boxes;
}

describe('shares of the colours', () => {
  const draw = seededRandom(5).between;
  const lays = Array.from({ length: 12 }, (_, k) =>
    stateOf(option(k % 2 ? 1 : -1, k % 3 ? 1 : -1), draw(-60, 60), draw(-60, 60)),
  );

  test('are those of the polygon library Clipper2, and sum to 1', () => {
    const one = cloth(null);
    const shares = sharesOver(one, [outline]);
    const whole = areaIn([[-500, -500, 500, 500]]);
    for (const lay of lays) {
      const found = shares(lay);
      expect(found.reduce((sum, share) => sum + share, 0)).toBeCloseTo(1, 12);
      found.forEach((share, colour) => {
        const boxes = stripBoxes(one.across, colour, lay.across.sign, lay.across.offsetMm, false);
        expect(share).toBeCloseTo(areaIn(boxes) / whole, 6);
      });
    }
  });

  test('of a check count half for either direction', () => {
    const shares = sharesOver(check, [outline]);
    const whole = areaIn([[-500, -500, 500, 500]]);
    for (const lay of lays) {
      const found = shares(lay);
      found.forEach((share, colour) => {
        const across = areaIn(stripBoxes(check.across, colour, lay.across.sign, lay.across.offsetMm, false));
        const along = areaIn(
          stripBoxes(check.along as AskedStripes, colour, lay.along.sign, lay.along.offsetMm, true),
        );
        expect(share).toBeCloseTo((across + along) / 2 / whole, 6);
      });
    }
  });

  test('of the parts of a piece add up to those of the whole', () => {
    const left: Point[] = [
      [-90, -60],
      [-30, -67.5],
      [-30, 80],
      [-100, 60],
    ];
    const right: Point[] = [[-30, -67.5], ...outline.slice(1, 6)];
    const one = cloth(null);
    const areas = (ring: Point[]) => {
      const whole = areaIn([[-500, -500, 500, 500]], ring);
      return sharesOver(one, [ring])(lays[0]).map((share) => share * whole);
    };
    const [all, a, b] = [areas(outline), areas(left), areas(right)];
    all.forEach((area, k) => {
      expect(a[k] + b[k]).toBeCloseTo(area, 2);
    });
  });
});

describe('copies that shall look alike', () => {
  const draw = seededRandom(6).between;
  const pairs = Array.from({ length: 10 }, () => [
    stateOf(option(1, 1), draw(-60, 60), draw(-60, 60)),
    stateOf(option(-1, -1), draw(-60, 60), draw(-60, 60)),
  ]);

  /** Share over which two lays show unlike colours, at 20,000 places drawn by chance (good to 0.0035): nothing of the program. */
  function unlikeByChance(asked: AskedCloth, [one, other]: (typeof pairs)[number]): number {
    const colourAt = ({ line }: AskedStripes, at: number): number => {
      let k = 0;
      while (line.edgesMm[k + 1] <= at) k++;
      return line.colour[k];
    };
    const inside = (p: number, q: number): boolean => {
      let is = false;
      outline.forEach(([p0, q0], k) => {
        const [p1, q1] = outline[(k + 1) % outline.length];
        if (q0 > q !== q1 > q && p < p0 + ((q - q0) / (q1 - q0)) * (p1 - p0)) is = !is;
      });
      return is;
    };
    let all = 0;
    let unlike = 0;
    const places = seededRandom(11).between;
    while (all < 20000) {
      const p = places(-100, 100);
      const q = places(-100, 100);
      if (!inside(p, q)) continue;
      all++;
      const differs = (axis: 'across' | 'along', at: number): boolean => {
        const chain = asked[axis];
        if (chain === null) return false;
        const colours = [one, other].map((lay) => colourAt(chain, lay[axis].sign * at + lay[axis].offsetMm));
        return colours[0] !== colours[1];
      };
      if (differs('across', p) || differs('along', q)) unlike++;
    }
    return unlike / all;
  }

  test.each([
    ['stripes', cloth(null)],
    ['a check', check],
  ])('differ on %s over the share that places drawn by chance tell', (_, asked) => {
    const { miss } = alikeMeasure(asked, [0, 1]);
    for (const pair of pairs)
      expect(Math.abs(miss(pair) - unlikeByChance(asked, pair))).toBeLessThan(4 * 0.0035);
  });
});
