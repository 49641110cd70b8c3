import type { Setting } from '../../base/setting.js';
import type { Point } from '../../math/matrix3.js';

/**
 * Pattern pieces as they stand in pieces.json once read: every length a number of mm, everything that may be left out filled in.
 * Piece frame: mm, x right, y up, seen from the side that will be the outside of the garment.
 */
export interface PiecesFile {
  readonly format: 'stripewright.pieces';
  readonly version: 1;
  readonly units: 'mm';
  readonly pieces: readonly Piece[];
  /** What a reader had to take for granted. */
  readonly warnings?: readonly PieceWarning[];
}

export interface PieceWarning {
  readonly code: string;
  readonly message: string;
  /** What can be set to settle it; absent when nothing. */
  readonly settings?: readonly Setting[];
}

export interface Piece {
  readonly id: string;
  readonly name: string;
  /** Closed and simple, either winding; the first point is not repeated at the end. */
  readonly stitching: readonly Point[];
  /** The cutting line where it is given; null: see allowance_mm. Of a piece with a fold, the half's. */
  readonly cutting: readonly Point[] | null;
  /** The cutting line is the stitching line moved out by so much; null, without a cutting line: the two are one. */
  readonly allowance_mm: number | null;
  /** From the foot of the grain line to its head. */
  readonly grain: readonly [Point, Point];
  readonly stripes: StripesWish;
  /** Named places; those within 0.05 mm of the stitching line lie on it. */
  readonly points: Readonly<Record<string, Point>>;
  readonly seams: readonly Seam[];
  /** The seam about which the other half is this one's mirror image, the two cut as one; null: the piece is whole. */
  readonly fold: string | null;
  readonly copies: readonly Copy[];
  /** Points that are notches: marks across the edge, cut or chalked. */
  readonly notches?: readonly string[];
}

/** How stripes shall run on a piece: along the grain, or along the straight line from start to end of a seam, and turned. */
export interface StripesWish {
  /** "grain", or the id of a seam. */
  readonly to: string;
  /** Counter-clockwise. */
  readonly angle_deg: number;
}

/** Part of the stitching line between two points on it, in the order in which it is listed; from = to: all of it. */
export interface Seam {
  readonly id: string;
  readonly from: string;
  readonly to: string;
}

export interface Copy {
  readonly id: string;
  readonly mirrored: boolean;
}

/** Points so near the stitching line lie on it; a fold so near a straight line is straight. Mm: half a chalk line's finest width. */
export const ON_LINE_MM = 0.05;
