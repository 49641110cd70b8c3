import type { Point } from '../../math/matrix3.js';
import type { Piece, Seam } from '../piece/pieces-file.js';
import { nearestPlace, partOfOutline } from './along-outline.js';
import { lineLengthMm, mirroredAbout, type Outline, sideOfLineMm } from './outline.js';
import { offsetOutline, partBeside, unitedOutline } from './polygons.js';

/** The seam of that name. Throws RangeError when the piece has none. */
export function seamOf(piece: Piece, id: string): Seam {
  const seam = piece.seams.find((one) => one.id === id);
  if (seam === undefined) throw new RangeError(`seam: piece "${piece.id}" has no seam "${id}"`);
  return seam;
}

/** A seam as a line from its start to its end, on the stitching line of the piece as given (of a half, the half's). */
export function seamLine(piece: Piece, id: string): Point[] {
  const { from, to } = seamOf(piece, id);
  const start = nearestPlace(piece.stitching, piece.points[from]);
  return partOfOutline(
    piece.stitching,
    start,
    from === to ? start : nearestPlace(piece.stitching, piece.points[to]),
  );
}

/** Length of a seam along the stitching line. */
export const seamLengthMm = (piece: Piece, id: string): number => lineLengthMm(seamLine(piece, id));

/** The ends of the fold, or null where the piece is whole. */
export function foldEnds(piece: Piece): readonly [Point, Point] | null {
  if (piece.fold === null) return null;
  const line = seamLine(piece, piece.fold);
  return [line[0], line[line.length - 1]];
}

/** The image of a place of the given half in the other half. Throws RangeError where the piece has no fold. */
export function onMirroredHalf(piece: Piece, p: Point): Point {
  const ends = foldEnds(piece);
  if (ends === null) throw new RangeError(`fold: piece "${piece.id}" has none`);
  return mirroredAbout(p, ends[0], ends[1]);
}

/**
 * The stitching line of the whole piece. Of one with a fold: from the end of the fold round the given half to its start, and back along
 * the image; the points of the half stay as they are.
 */
export function wholeStitching(piece: Piece): Point[] {
  const ends = foldEnds(piece);
  if (ends === null) return [...piece.stitching];
  const [start, end] = ends;
  const rest = partOfOutline(
    piece.stitching,
    nearestPlace(piece.stitching, end),
    nearestPlace(piece.stitching, start),
  );
  const image = rest
    .slice(1, -1)
    .reverse()
    .map((p) => mirroredAbout(p, start, end));
  return [...rest, ...image];
}

/** The cutting line of the whole piece: as given (of a half, with its image), or the allowance round the whole, or the stitching line itself. */
export function wholeCutting(piece: Piece): Point[] {
  const ends = foldEnds(piece);
  if (piece.cutting !== null) {
    if (ends === null) return [...piece.cutting];
    const image = piece.cutting.map((p) => mirroredAbout(p, ends[0], ends[1])).reverse();
    return unitedOutline([piece.cutting, image]);
  }
  return offsetOutline(wholeStitching(piece), piece.allowance_mm ?? 0);
}

/** The cutting line of the piece as given: of a half, the whole one's part on its side of the fold. */
export function givenCutting(piece: Piece): Point[] {
  if (piece.cutting !== null) return [...piece.cutting];
  const ends = foldEnds(piece);
  if (ends === null) return wholeCutting(piece);
  return partBeside(wholeCutting(piece), ends[0], ends[1], farthestFrom(piece.stitching, ends));
}

/** A point of the outline that lies clear of the fold. */
const farthestFrom = (outline: Outline, [a, b]: readonly [Point, Point]): Point =>
  outline.reduce((most, p) =>
    Math.abs(sideOfLineMm(p, a, b)) > Math.abs(sideOfLineMm(most, a, b)) ? p : most,
  );

/** Degrees, counter-clockwise from +x of the piece frame: the way the stripes shall run on the piece. */
export function stripesDirectionDeg(piece: Piece): number {
  const { to, angle_deg } = piece.stripes;
  const line = to === 'grain' ? piece.grain : seamLine(piece, to);
  const [from, end] = [line[0], line[line.length - 1]];
  return (Math.atan2(end[1] - from[1], end[0] - from[0]) * 180) / Math.PI + angle_deg;
}
