import type { Point } from '../../math/matrix3.js';
import type { Half } from '../plan/plan.js';
import type { Path } from './path.js';

/**
 * One copy of a piece as placing needs it, in its stripe frame: q along the way the stripes shall run on the piece, p that way
 * turned a quarter clockwise; mm. On the cloth u = sign p + offset and v = sign q + offset, so a lay is two signs and two offsets.
 */
export interface CopyShape {
  readonly id: string;
  readonly piece: string;
  readonly mirrored: boolean;
  /** Cosine and sine of the turn that takes piece (x, y) to (p, q): p = c x - s y - middle[0], q = s x + c y - middle[1]. */
  readonly turn: readonly [number, number];
  /** What lies at p = q = 0, the middle of the outline's extent, before it is moved there. */
  readonly middle: Point;
  /** Way from the foot to the head of the grain line, a unit vector in (p, q). */
  readonly grain: Point;
  /** Named points; none on the mirrored half of a piece without a fold. */
  readonly points: Readonly<Record<Half, ReadonlyMap<string, Point>>>;
  /** Named seams, likewise. */
  readonly seams: Readonly<Record<Half, ReadonlyMap<string, NamedPath>>>;
  /** The stitching line of the whole piece. */
  readonly outline: readonly Point[];
}

export interface NamedPath {
  readonly path: Path;
  readonly from: string;
  readonly to: string;
}

/** How a copy lies on the cloth. */
export interface LaidCopy {
  readonly across: AxisLay;
  readonly along: AxisLay;
}

/** One coordinate of the cloth: sign times the copy's own coordinate, plus the offset, mm. */
export interface AxisLay {
  readonly sign: 1 | -1;
  readonly offsetMm: number;
}
