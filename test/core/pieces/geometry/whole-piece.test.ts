import { describe, expect, it } from 'vitest';
import { areaMm2, signedAreaMm2 } from '../../../../src/core/pieces/geometry/outline.js';
import {
  givenCutting,
  onMirroredHalf,
  seamLengthMm,
  seamLine,
  stripesDirectionDeg,
  wholeCutting,
  wholeStitching,
} from '../../../../src/core/pieces/geometry/whole-piece.js';
import { gore } from '../../../support/pieces/small-pieces.js';

const half = gore({ fold: 'centre' });

describe('seams', () => {
  it('run between their points in the order of the line, past its first point too', () => {
    const piece = gore({
      seams: [
        { id: 'round', from: 'top', to: 'hem' },
        { id: 'all', from: 'top', to: 'top' },
      ],
    });
    expect(seamLine(piece, 'round')).toEqual([
      [80, 200],
      [0, 200],
      [0, 0],
      [120, 0],
    ]);
    expect(seamLengthMm(piece, 'round')).toBeCloseTo(80 + 200 + 120, 9);
    expect(seamLengthMm(piece, 'all')).toBeCloseTo(400 + Math.hypot(40, 200), 9);
    expect(seamLengthMm(gore(), 'side')).toBeCloseTo(Math.hypot(40, 200), 9);
    expect(() => seamLine(gore(), 'hem')).toThrow(/no seam "hem"/);
  });

  it('may end within an edge, both ends in one', () => {
    const points = { a: [30, 0], b: [90, 0] } as const;
    const piece = gore({
      points,
      seams: [
        { id: 'there', from: 'a', to: 'b' },
        { id: 'round', from: 'b', to: 'a' },
      ],
    });
    expect(seamLengthMm(piece, 'there')).toBeCloseTo(60, 9);
    expect(seamLengthMm(piece, 'there') + seamLengthMm(piece, 'round')).toBeCloseTo(
      400 + Math.hypot(40, 200),
      9,
    );
  });
});

describe('a piece with a fold', () => {
  it('is twice its half, wound the same way', () => {
    const whole = wholeStitching(half);
    expect(whole).toHaveLength(6);
    expect(signedAreaMm2(whole)).toBeCloseTo(2 * signedAreaMm2(half.stitching), 6);
    expect(onMirroredHalf(half, [120, 0])).toEqual([-120, 0]);
  });

  // Mitred: A + P d + d^2 sum tan(turn / 2) with the turns of the whole piece's four corners.
  it('has its allowance all round the whole and none at the fold', () => {
    const slant = Math.hypot(40, 200);
    const low = Math.PI - Math.atan2(200, 40);
    const corners = 2 * (Math.tan(low / 2) + Math.tan((Math.PI - low) / 2));
    const expected = 40_000 + (240 + 160 + 2 * slant) * 15 + corners * 225;
    expect(areaMm2(wholeCutting(half))).toBeCloseTo(expected, 1);
    expect(areaMm2(givenCutting(half))).toBeCloseTo(expected / 2, 1);
    expect(Math.min(...givenCutting(half).map(([x]) => x))).toBeCloseTo(0, 4);
  });

  it('joins a given cutting line with its image', () => {
    const cutting = [
      [0, -15],
      [140, -15],
      [95, 215],
      [0, 215],
    ] as const;
    expect(areaMm2(wholeCutting({ ...half, cutting }))).toBeCloseTo(2 * areaMm2(cutting), 3);
    expect(givenCutting({ ...half, cutting })).toEqual(cutting);
  });
});

describe('stripesDirectionDeg', () => {
  it('follows the grain or a seam from its start to its end, turned counter-clockwise', () => {
    expect(stripesDirectionDeg(gore())).toBeCloseTo(90, 9);
    expect(stripesDirectionDeg(gore({ stripes: { to: 'grain', angle_deg: 30 } }))).toBeCloseTo(120, 9);
    const side = (Math.atan2(200, -40) * 180) / Math.PI;
    expect(stripesDirectionDeg(gore({ stripes: { to: 'side', angle_deg: -10 } }))).toBeCloseTo(side - 10, 9);
  });
});

it('without allowance and cutting line the two lines are one', () => {
  expect(wholeCutting(gore({ allowance_mm: null }))).toEqual(gore().stitching);
});
