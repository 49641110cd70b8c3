import {
  check,
  finiteNumber,
  listOf,
  numberWithin,
  oneOf,
  optional,
  orNull,
  plainly,
  record,
  text,
  yesOrNo,
} from '../../base/expectation.js';
import { UsageError } from '../../base/outcome.js';
import { checkPieces } from './check-pieces.js';
import type { Piece, PiecesFile } from './pieces-file.js';

const point = listOf(finiteNumber, { least: 2, most: 2 }, 'mm, x and y');
const outline = listOf(point, { least: 3 }, 'points');

const PIECE = record(
  {
    id: text,
    name: text,
    stitching: outline,
    cutting: orNull(outline),
    allowance_mm: orNull(numberWithin({ least: 0 }, 'mm')),
    grain: listOf(point, { least: 2, most: 2 }, 'points'),
    stripes: record({ to: text, angle_deg: finiteNumber }),
    points: plainly(
      'points by their names',
      (value) =>
        typeof value === 'object' &&
        value !== null &&
        Object.values(value).every((at) => point.problem(at, '') === null),
    ),
    seams: listOf(record({ id: text, from: text, to: text })),
    fold: orNull(text),
    copies: listOf(record({ id: text, mirrored: yesOrNo })),
    notches: optional(listOf(text)),
  },
  'a pattern piece',
);

const FILE = record(
  {
    format: oneOf(['stripewright.pieces']),
    version: oneOf([1]),
    units: oneOf(['mm']),
    pieces: listOf(PIECE, { least: 1 }, 'pieces'),
    warnings: optional(listOf(record({ code: text, message: text }))),
  },
  'pattern pieces',
);

/** Throws UsageError unless it is a piece, complete and with sound outlines. */
export function checkPiece(piece: Piece, parameter: string): void {
  check(piece, parameter, PIECE);
  const fault = checkPieces([piece]);
  if (fault !== null) throw new UsageError(fault, parameter);
}

/** Throws UsageError unless the value is a set of pieces, complete and with sound outlines. Text is read by `parsePieces`. */
export function checkPiecesFile(file: PiecesFile): void {
  check(file, 'file', FILE);
  const fault = checkPieces(file.pieces);
  if (fault !== null) throw new UsageError(fault, 'file.pieces');
}
