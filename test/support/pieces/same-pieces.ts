import { expect } from 'vitest';
import type { Point } from '../../../src/core/math/matrix3.js';
import type { Piece, PiecesFile } from '../../../src/core/pieces/piece/pieces-file.js';

const named = ({ stitching, cutting, grain, points, ...rest }: Piece) => ({
  ...rest,
  points: Object.keys(points).sort(),
  cut: cutting !== null,
});

/** Every line and point the same to so many mm, everything else the same. */
export function expectSamePieces(actual: PiecesFile, expected: PiecesFile, mm = 0.01): void {
  expect(actual.pieces.map(named)).toEqual(expected.pieces.map(named));
  actual.pieces.forEach((piece, i) => {
    const other = expected.pieces[i];
    expectNear(piece.stitching, other.stitching, mm);
    expectNear(piece.cutting ?? [], other.cutting ?? [], mm);
    expectNear(piece.grain, other.grain, mm);
    const ids = Object.keys(other.points);
    expectNear(
      ids.map((id) => piece.points[id]),
      ids.map((id) => other.points[id]),
      mm,
    );
  });
}

function expectNear(actual: readonly Point[], expected: readonly Point[], mm: number): void {
  expect(actual).toHaveLength(expected.length);
  const worst = Math.max(
    0,
    ...actual.map((p, i) => Math.hypot(p[0] - expected[i][0], p[1] - expected[i][1])),
  );
  expect(worst).toBeLessThanOrEqual(mm);
}
