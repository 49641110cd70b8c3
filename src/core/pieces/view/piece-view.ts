import type { Point } from '../../math/matrix3.js';
import { areaMm2, extentOf, lineLengthMm, mirroredAbout } from '../geometry/outline.js';
import {
  foldEnds,
  givenCutting,
  seamLine,
  stripesDirectionDeg,
  wholeStitching,
} from '../geometry/whole-piece.js';
import { checkPiece } from '../piece/check-pieces-file.js';
import type { Piece } from '../piece/pieces-file.js';

/** A piece with everything about it that is worked out rather than given; mm, piece frame. */
export interface PieceView {
  readonly piece: Piece;
  /** Of a half, the half's. */
  readonly cutting: readonly Point[];
  /** Image of the cutting line in the fold; null where the piece is whole. */
  readonly otherHalf: readonly Point[] | null;
  readonly seams: readonly SeamView[];
  /** How the stripes shall run, degrees counter-clockwise from +x. */
  readonly stripesDeg: number;
  /** Across and up, of the whole stitching line. */
  readonly widthMm: number;
  readonly heightMm: number;
  /** Within the whole stitching line. */
  readonly areaMm2: number;
}

export interface SeamView {
  readonly id: string;
  readonly line: readonly Point[];
  readonly lengthMm: number;
  readonly isFold: boolean;
}

export function viewOfPiece(piece: Piece): PieceView {
  checkPiece(piece, 'piece');
  const cutting = givenCutting(piece);
  const ends = foldEnds(piece);
  const whole = wholeStitching(piece);
  const { left, right, bottom, top } = extentOf(whole);
  return {
    piece,
    cutting,
    otherHalf: ends === null ? null : cutting.map((p) => mirroredAbout(p, ends[0], ends[1])),
    seams: piece.seams.map(({ id }) => {
      const line = seamLine(piece, id);
      return { id, line, lengthMm: lineLengthMm(line), isFold: id === piece.fold };
    }),
    stripesDeg: stripesDirectionDeg(piece),
    widthMm: right - left,
    heightMm: top - bottom,
    areaMm2: areaMm2(whole),
  };
}
