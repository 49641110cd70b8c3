import { laidOutJson } from '../../base/laid-out-json.js';
import type { Point } from '../../math/matrix3.js';
import { checkPiecesFile } from './check-pieces-file.js';
import type { Piece, PiecesFile } from './pieces-file.js';

/** 0.1 micrometre: far below what is cut, and no noise from sums in the file. Adding 0 turns -0 into 0. */
const rounded = (mm: number): number => Math.round(mm * 1e4) / 1e4 + 0;

const roundedPoint = ([x, y]: Point): Point => [rounded(x), rounded(y)];

/** Fields in the order of the format, whatever they were read from; others after them. */
const roundedPiece = ({ id, name, stitching, cutting, allowance_mm, ...piece }: Piece): Piece => {
  const { grain, stripes, points, seams, fold, copies, ...others } = piece;
  return {
    id,
    name,
    stitching: stitching.map(roundedPoint),
    cutting: cutting === null ? null : cutting.map(roundedPoint),
    allowance_mm: allowance_mm === null ? null : rounded(allowance_mm),
    grain: [roundedPoint(grain[0]), roundedPoint(grain[1])],
    stripes,
    points: Object.fromEntries(Object.entries(points).map(([point, at]) => [point, roundedPoint(at)])),
    seams,
    fold,
    copies,
    ...others,
  };
};

/**
 * The text of pieces.json, each point on one line of its own or beside the others of a short list, so that a person can read it. Fields
 * that are not of the format, of the file and of each piece, are written as they are. Ends with a line end.
 */
export function formatPieces(file: PiecesFile): string {
  checkPiecesFile(file);
  return `${laidOutJson({
    ...file,
    pieces: file.pieces.map(roundedPiece),
    // How a doubt is settled is for whoever shows it to a person.
    warnings: file.warnings?.map(({ settings, ...warning }) => warning),
  })}\n`;
}
