import type { Piece, PiecesFile } from '../../../src/core/pieces/piece/pieces-file.js';

/** A piece that leaves nothing to defaults but what is overridden: a gore, 200 mm high, its right side slanting. */
export const gore = (over: Partial<Piece> = {}): Piece => ({
  id: 'gore',
  name: 'Side gore',
  stitching: [
    [0, 0],
    [120, 0],
    [80, 200],
    [0, 200],
  ],
  cutting: null,
  allowance_mm: 15,
  grain: [
    [40, 20],
    [40, 180],
  ],
  stripes: { to: 'grain', angle_deg: 0 },
  points: { hem: [120, 0], top: [80, 200], middle: [0, 0], neck: [0, 200] },
  seams: [
    { id: 'side', from: 'hem', to: 'top' },
    { id: 'centre', from: 'neck', to: 'middle' },
  ],
  fold: null,
  copies: [{ id: 'gore', mirrored: false }],
  ...over,
});

export const fileOf = (...pieces: Piece[]): PiecesFile => ({
  format: 'stripewright.pieces',
  version: 1,
  units: 'mm',
  pieces,
});
