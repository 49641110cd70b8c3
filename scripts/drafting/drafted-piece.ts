import type { Point } from '../../src/core/math/matrix3.js';
import { stripesDirectionDeg } from '../../src/core/pieces/geometry/whole-piece.js';
import type { Piece, StripesWish } from '../../src/core/pieces/piece/pieces-file.js';

/** One seam of an outline, drawn from a named point to the next. */
export interface Part {
  readonly seam: string;
  readonly from: string;
  readonly to: string;
  readonly line: readonly Point[];
}

export interface Draft {
  readonly id: string;
  readonly name: string;
  /** All round, counter-clockwise. */
  readonly parts: readonly Part[];
  readonly stripes: StripesWish;
  /** Middle of the grain line, which runs as the stripes do. */
  readonly grainAt: Point;
  readonly grainMm?: number;
  readonly notches: Readonly<Record<string, Point>>;
  /** The second one mirrored. */
  readonly copies: readonly string[];
  readonly fold?: string;
  readonly allowanceMm?: number;
}

/** A piece from its seams, its grain line laid along its stripes, head up. */
export function draftedPiece(draft: Draft): Piece {
  const { parts, stripes, grainAt, grainMm = 200 } = draft;
  const piece: Piece = {
    id: draft.id,
    name: draft.name,
    stitching: parts.flatMap((part) => part.line.slice(0, -1)),
    cutting: null,
    allowance_mm: draft.allowanceMm ?? 15,
    grain: [
      [grainAt[0], grainAt[1] - grainMm / 2],
      [grainAt[0], grainAt[1] + grainMm / 2],
    ],
    stripes,
    points: {
      ...Object.fromEntries(parts.map((part) => [part.from, part.line[0]])),
      ...draft.notches,
    },
    seams: parts.map(({ seam, from, to }) => ({ id: seam, from, to })),
    fold: draft.fold ?? null,
    copies: draft.copies.map((id, i) => ({ id, mirrored: i === 1 })),
    ...(Object.keys(draft.notches).length === 0 ? {} : { notches: Object.keys(draft.notches) }),
  };
  const angle = (stripesDirectionDeg(piece) * Math.PI) / 180;
  // Head to the upper end; of level stripes to the right.
  const up = Math.sin(angle) < -1e-9 || (Math.abs(Math.sin(angle)) < 1e-9 && Math.cos(angle) < 0) ? -1 : 1;
  const [dx, dy] = [(up * Math.cos(angle) * grainMm) / 2, (up * Math.sin(angle) * grainMm) / 2];
  return {
    ...piece,
    grain: [
      [grainAt[0] - dx, grainAt[1] - dy],
      [grainAt[0] + dx, grainAt[1] + dy],
    ],
  };
}
