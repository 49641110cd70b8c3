import type { Point } from '../../math/matrix3.js';
import type { Facts } from '../piece/facts-text.js';
import type { DrawnLine } from './join-lines.js';

/** What a drawing shows of one piece, in mm and the piece frame, before it is put together. */
export interface DrawnPiece {
  readonly id: string;
  readonly stitching: readonly DrawnLine[];
  readonly cutting: readonly DrawnLine[];
  /** Foot and head; null: not drawn. */
  readonly grain: readonly [Point, Point] | null;
  /** A line along which stripes shall run; null: not drawn. */
  readonly stripes: readonly [Point, Point] | null;
  readonly seams: readonly DrawnSeam[];
  readonly points: Readonly<Record<string, Point>>;
  readonly notches: readonly string[];
  /** The seam that is the fold; null: whole. */
  readonly fold: string | null;
  readonly facts: Facts;
}

/** A seam drawn along the stitching line; its ends may name the points they are at. */
export interface DrawnSeam {
  readonly id: string;
  readonly line: readonly Point[];
  readonly from?: string;
  readonly to?: string;
}
