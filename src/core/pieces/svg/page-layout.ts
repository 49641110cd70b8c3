import type { Point } from '../../math/matrix3.js';
import { type Extent, extentOf } from '../geometry/outline.js';
import { givenCutting } from '../geometry/whole-piece.js';
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

/** Between pieces and round the page, mm: room for a line of writing and for scissors. */
const GAP_MM = 20;
/** A page somewhat wider than high suits screens. */
const WIDE = 1.4;

/**
 * Pieces side by side in rows, in the order given, each the right way up. `headMm` and `footMm`: room left free above and below them all;
 * `underMm`: under each piece.
 */
export function layOutPage(
  pieces: readonly Piece[],
  { headMm, footMm, underMm }: { headMm: number; footMm: number; underMm: number },
): PageLayout {
  const sized = pieces.map((piece) => {
    const cutting = givenCutting(piece);
    return {
      piece,
      cutting,
      extent: extentOf([...piece.stitching, ...cutting, ...piece.grain, ...Object.values(piece.points)]),
    };
  });
  const widest = Math.max(...sized.map(({ extent }) => extent.right - extent.left));
  const area = sized.reduce(
    (sum, { extent }) =>
      sum + (extent.right - extent.left + GAP_MM) * (extent.top - extent.bottom + GAP_MM + underMm),
    0,
  );
  const rowMm = Math.max(widest, Math.sqrt(area * WIDE));
  const placed: PlacedPiece[] = [];
  let [x, y, rowHeight, widthMm] = [GAP_MM, GAP_MM + headMm, 0, 0];
  for (const one of sized) {
    const { left, right, bottom, top } = one.extent;
    if (x > GAP_MM && x + right - left > GAP_MM + rowMm) {
      y += rowHeight + GAP_MM;
      x = GAP_MM;
      rowHeight = 0;
    }
    placed.push({ ...one, originX: x - left, originY: y + top });
    x += right - left + GAP_MM;
    widthMm = Math.max(widthMm, x);
    rowHeight = Math.max(rowHeight, top - bottom + underMm);
  }
  // Whole mm, so that the page's size and its view agree to the last digit.
  return { placed, widthMm: Math.ceil(widthMm), heightMm: Math.ceil(y + rowHeight + GAP_MM + footMm) };
}
