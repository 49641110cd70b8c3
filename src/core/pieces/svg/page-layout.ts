import type { Point } from '../../math/matrix3.js';
import { type Extent, extentOf, mirroredAbout } from '../geometry/outline.js';
import { foldEnds, givenCutting } from '../geometry/whole-piece.js';
import type { Piece } from '../piece/pieces-file.js';

/** A piece on a page whose y runs down, mm. */
export interface PlacedPiece {
  readonly piece: Piece;
  /** Its cutting line as given, or from its allowance; of a half, the half's. */
  readonly cutting: readonly Point[];
  /** Where the piece's own (0, 0) lies on the page. */
  readonly originX: number;
  readonly originY: number;
  /** In the piece's own frame. */
  readonly extent: Extent;
}

export interface PageLayout {
  readonly placed: readonly PlacedPiece[];
  readonly widthMm: number;
  readonly heightMm: number;
}

/** Room on a page beside that of the pieces, mm. */
export interface PageRoom {
  /** Above and below all pieces. */
  readonly headMm: number;
  readonly footMm: number;
  /** Under each piece. */
  readonly underMm: number;
  /** Between pieces and round the page: room for scissors; default 20. */
  readonly gapMm?: number;
  /** No piece takes less across. */
  readonly leastWidthMm?: number;
  /** Room for the other half of a piece with a fold as well. */
  readonly unfolded?: boolean;
}

/** A page somewhat wider than high suits screens. */
const WIDE = 1.4;

/** Pieces side by side in rows, in the order given, each the right way up. */
export function layOutPage(pieces: readonly Piece[], room: PageRoom): PageLayout {
  const { headMm, footMm, underMm, gapMm = 20, leastWidthMm = 0, unfolded = false } = room;
  const sized = pieces.map((piece) => {
    const cutting = givenCutting(piece);
    const fold = unfolded ? foldEnds(piece) : null;
    const other = fold === null ? [] : cutting.map((p) => mirroredAbout(p, fold[0], fold[1]));
    const extent = extentOf([
      ...piece.stitching,
      ...cutting,
      ...other,
      ...piece.grain,
      ...Object.values(piece.points),
    ]);
    return { piece, cutting, extent, across: Math.max(leastWidthMm, extent.right - extent.left) };
  });
  const widest = Math.max(...sized.map(({ across }) => across));
  const area = sized.reduce(
    (sum, { extent, across }) => sum + (across + gapMm) * (extent.top - extent.bottom + gapMm + underMm),
    0,
  );
  const rowMm = Math.max(widest, Math.sqrt(area * WIDE));
  const placed: PlacedPiece[] = [];
  let [x, y, rowHeight, widthMm] = [gapMm, gapMm + headMm, 0, 0];
  for (const { across, ...one } of sized) {
    const { left, bottom, top } = one.extent;
    if (x > gapMm && x + across > gapMm + rowMm) {
      y += rowHeight + gapMm;
      x = gapMm;
      rowHeight = 0;
    }
    placed.push({ ...one, originX: x - left, originY: y + top });
    x += across + gapMm;
    widthMm = Math.max(widthMm, x);
    rowHeight = Math.max(rowHeight, top - bottom + underMm);
  }
  // Whole mm, so that the page's size and its view agree to the last digit.
  return { placed, widthMm: Math.ceil(widthMm), heightMm: Math.ceil(y + rowHeight + gapMm + footMm) };
}
