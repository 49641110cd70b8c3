import { expect, test } from 'vitest';
import { guessJoins } from '../../../src/core/place/plan/guess-joins.js';
import { panel, piecesOf } from '../../support/rectangle-pieces.js';

/** Joins as "copy seam + copy seam", the left side first. */
const joinsOf = (...pieces: readonly object[]): string[] =>
  guessJoins(piecesOf(...pieces)).map(
    ({ left, right }) => `${left.copy} ${left.seam} + ${right.copy} ${right.seam}`,
  );

const pair = (id: string) => ({
  copies: [
    { id: `${id}-left`, mirrored: false },
    { id: `${id}-right`, mirrored: true },
  ],
});
const corners = {
  points: { low: [0, 0], 'low-right': [100, 0], 'high-right': [100, 300], high: [0, 300] },
};

test('copies that have the seam between them are joined, those of other pieces first; what hems is not', () => {
  const front = panel('front', 100, 300, {
    ...pair('front'),
    ...corners,
    seams: [
      { id: 'hem', from: 'low', to: 'low-right' },
      { id: 'side', from: 'low-right', to: 'high-right' },
      { id: 'centre', from: 'high', to: 'low' },
    ],
  });
  // Drawn the other way round, so that the unmirrored back lies right of its side seam.
  const back = {
    ...panel('back', 100, 300, { ...pair('back'), ...corners }),
    stitching: [
      [0, 0],
      [0, 300],
      [100, 300],
      [100, 0],
    ],
    points: { 'low-right': [0, 0], 'high-right': [0, 300], high: [100, 300], low: [100, 0] },
    seams: [
      { id: 'side', from: 'low-right', to: 'high-right' },
      { id: 'centre', from: 'high', to: 'low' },
      { id: 'hem', from: 'low', to: 'low-right' },
    ],
  };
  expect(joinsOf(front, back)).toEqual([
    'front-left side + back-left side',
    'back-right side + front-right side',
    'front-left centre + front-right centre',
    'back-right centre + back-left centre',
  ]);
});

test('a seam is eased into one a twelfth shorter, not into one much shorter', () => {
  const sleeve = (height: number) =>
    panel('sleeve', 100, height, { seams: [{ id: 'yoke', from: 'high-left', to: 'low-left' }] });
  const front = panel('front', 100, 300, { seams: [{ id: 'yoke', from: 'low-right', to: 'high-right' }] });
  const upside = (piece: object) => ({ ...piece, copies: [{ id: 'sleeve', mirrored: true }] });
  expect(joinsOf(front, upside(sleeve(320)))).toHaveLength(1);
  expect(joinsOf(front, upside(sleeve(360)))).toHaveLength(0);
});
