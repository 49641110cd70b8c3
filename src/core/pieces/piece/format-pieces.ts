import { laidOutJson } from '../../base/laid-out-json.js';
import type { Point } from '../../math/matrix3.js';
import type { Piece, PiecesFile } from './pieces-file.js';

/** 0.1 micrometre: far below what is cut, and no noise from sums in the file. Adding 0 turns -0 into 0. */
const rounded = (mm: number): number => Math.round(mm * 1e4) / 1e4 + 0;

const roundedPoint = ([x, y]: Point): Point => [rounded(x), rounded(y)];

const roundedPiece = (piece: Piece): Piece => ({
  ...piece,
  stitching: piece.stitching.map(roundedPoint),
  cutting: piece.cutting === null ? null : piece.cutting.map(roundedPoint),
  allowance_mm: piece.allowance_mm === null ? null : rounded(piece.allowance_mm),
  grain: [roundedPoint(piece.grain[0]), roundedPoint(piece.grain[1])],
  points: Object.fromEntries(Object.entries(piece.points).map(([id, at]) => [id, roundedPoint(at)])),
});

/**
 * The text of pieces.json, each point on one line of its own or beside the others of a short list, so that a person can read it. Fields
 * that are not of the format, of the file and of each piece, are written as they are. Ends with a line end.
 */
export const formatPieces = (file: PiecesFile): string =>
  `${laidOutJson({
    ...file,
    pieces: file.pieces.map(roundedPiece),
    // How a doubt is settled is for whoever shows it to a person.
    warnings: file.warnings?.map(({ settings, ...warning }) => warning),
  })}\n`;
