import type { Point } from '../../math/matrix3.js';
import type { Copy, Piece } from '../../pieces/piece/pieces-file.js';
import {
  foldEnds,
  onMirroredHalf,
  seamLine,
  stripesDirectionDeg,
  wholeStitching,
} from '../../pieces/geometry/whole-piece.js';
import { type CopyShape, type NamedPath, onHalf } from './copy-shape.js';
import { pathOf } from './path.js';

/** A copy in its stripe frame (see CopyShape). The piece must have passed `parsePieces`. */
export function shapeOfCopy(piece: Piece, copy: Copy): CopyShape {
  // The stripes' way d becomes +q, and d turned a quarter clockwise becomes +p.
  const toQ = Math.PI / 2 - (stripesDirectionDeg(piece) * Math.PI) / 180;
  const [c, s] = [snapped(Math.cos(toQ)), snapped(Math.sin(toQ))];
  const turned = ([x, y]: Point): Point => [c * x - s * y, s * x + c * y];
  const points = new Map<string, Point>();
  for (const [id, at] of Object.entries(piece.points)) points.set(onHalf('given', id), turned(at));
  const seams = new Map<string, NamedPath>();
  for (const { id, from, to } of piece.seams)
    seams.set(onHalf('given', id), { path: pathOf(seamLine(piece, id).map(turned)), from, to });
  if (foldEnds(piece) !== null) {
    for (const [id, at] of Object.entries(piece.points))
      points.set(onHalf('mirrored', id), turned(onMirroredHalf(piece, at)));
    for (const { id, from, to } of piece.seams) {
      const line = seamLine(piece, id).map((at) => turned(onMirroredHalf(piece, at)));
      seams.set(onHalf('mirrored', id), { path: pathOf(line), from, to });
    }
  }
  const [foot, head] = [turned(piece.grain[0]), turned(piece.grain[1])];
  const length = Math.hypot(head[0] - foot[0], head[1] - foot[1]);
  return {
    id: copy.id,
    piece: piece.id,
    mirrored: copy.mirrored,
    turn: [c, s],
    grain: [(head[0] - foot[0]) / length, (head[1] - foot[1]) / length],
    points,
    seams,
    outline: wholeStitching(piece).map(turned),
  };
}

/** A quarter turn's cosine is 6e-17 by rounding, which would tilt what lies straight along a stripe by as much. */
const snapped = (value: number): number => (Math.abs(value) < 1e-12 ? 0 : value);
