import type { Point } from '../../math/matrix3.js';
import {
  foldEnds,
  onMirroredHalf,
  seamLine,
  stripesDirectionDeg,
  wholeStitching,
} from '../../pieces/geometry/whole-piece.js';
import type { Copy, Piece } from '../../pieces/piece/pieces-file.js';
import type { CopyShape, NamedPath } from './copy-shape.js';
import { pathOf } from './path.js';

/** A copy in its stripe frame (see CopyShape). The piece must have passed `parsePieces`. */
export function shapeOfCopy(piece: Piece, copy: Copy): CopyShape {
  // The stripes' way d becomes +q, and d turned a quarter clockwise becomes +p.
  const toQ = Math.PI / 2 - (stripesDirectionDeg(piece) * Math.PI) / 180;
  const [c, s] = [snapped(Math.cos(toQ)), snapped(Math.sin(toQ))];
  const outline = wholeStitching(piece).map(([x, y]): Point => [c * x - s * y, s * x + c * y]);
  const middle: Point = [middleOf(outline.map(([p]) => p)), middleOf(outline.map(([, q]) => q))];
  const turned = ([x, y]: Point): Point => [c * x - s * y - middle[0], s * x + c * y - middle[1]];
  const given = (at: Point): Point => turned(at);
  const mirrored = (at: Point): Point => turned(onMirroredHalf(piece, at));
  const hasFold = foldEnds(piece) !== null;
  const [foot, head] = [turned(piece.grain[0]), turned(piece.grain[1])];
  const length = Math.hypot(head[0] - foot[0], head[1] - foot[1]);
  return {
    id: copy.id,
    piece: piece.id,
    mirrored: copy.mirrored,
    turn: [c, s],
    middle,
    grain: [(head[0] - foot[0]) / length, (head[1] - foot[1]) / length],
    points: { given: pointsOf(piece, given), mirrored: hasFold ? pointsOf(piece, mirrored) : new Map() },
    seams: { given: seamsOf(piece, given), mirrored: hasFold ? seamsOf(piece, mirrored) : new Map() },
    outline: outline.map(([p, q]) => [p - middle[0], q - middle[1]]),
  };
}

const pointsOf = (piece: Piece, laid: (at: Point) => Point): Map<string, Point> =>
  new Map(Object.entries(piece.points).map(([id, at]) => [id, laid(at)]));

const seamsOf = (piece: Piece, laid: (at: Point) => Point): Map<string, NamedPath> =>
  new Map(
    piece.seams.map(({ id, from, to }) => [id, { path: pathOf(seamLine(piece, id).map(laid)), from, to }]),
  );

const middleOf = (values: readonly number[]): number => (Math.min(...values) + Math.max(...values)) / 2;

/** A quarter turn's cosine is 6e-17 by rounding, which would tilt what lies straight along a stripe by as much. */
const snapped = (value: number): number => (Math.abs(value) < 1e-12 ? 0 : value);
