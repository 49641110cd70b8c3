import type { Point } from '../../math/matrix3.js';
import { type Affine, composed } from '../drawn/curves.js';
import { joinedLines } from '../drawn/join-lines.js';
import { nearestPlace } from '../geometry/along-outline.js';
import type { Outline } from '../geometry/outline.js';
import { contains } from '../geometry/polygons.js';
import { type DxfPiece, systemText } from './choose-blocks.js';
import { type DxfBlocks, type DxfPart, insertMap, partsOf } from './dxf-parts.js';
import type { DxfEntity } from './entity-lines.js';
import { LAYER } from './layers.js';

/** Scales of two layings that differ by less than this (a part) are one. */
const SAME_SCALE = 1e-6;

/** All pieces of a file in all their sizes, in mm, or a text that says what cannot be read. */
export function piecesInFile(
  entities: readonly DxfEntity[],
  blocks: DxfBlocks,
  mmFromFile: Affine,
): DxfPiece[] | string {
  const pieces: DxfPiece[] = [];
  const inserts = entities.filter((entity) => entity.type === 'INSERT');
  for (const [name, block] of Object.entries(blocks)) {
    // Names with a star are the drawing itself and what programs make by themselves.
    if (name.startsWith('*')) continue;
    const layings = inserts
      .filter((entity) => entity.name === name)
      .map((entity) => insertMap(entity, blocks));
    const scale = scaleOf(name, layings);
    if (typeof scale === 'string') return scale;
    const parts = partsOf(block.entities ?? [], composed(mmFromFile, [scale, 0, 0, scale, 0, 0]), blocks);
    if (typeof parts === 'string') return `block "${name}": ${parts}`;
    if (!parts.some((part) => part.layer === LAYER.boundary && part.line !== null)) continue;
    const laid = layings.map(([a, b, c, d]) => ({ mirrored: a * d - b * c < 0 }));
    pieces.push(described(name, parts, laid));
  }
  if (pieces.length > 0) return pieces;
  const loose = partsOf(entities, mmFromFile, blocks);
  return typeof loose === 'string' ? loose : loosePieces(loose);
}

/** By how much a block is enlarged where it is laid out: the same both ways and every time, or it is no piece. */
function scaleOf(name: string, layings: readonly Affine[]): number | string {
  let scale = 1;
  for (const [i, [a, b, c, d]] of layings.entries()) {
    const [x, y] = [Math.hypot(a, b), Math.hypot(c, d)];
    if (Math.abs(x - y) > SAME_SCALE * x) return `block "${name}" is laid out stretched, ${x} by ${y}`;
    if (i > 0 && Math.abs(x - scale) > SAME_SCALE * scale)
      return `block "${name}" is laid out in two scales, ${scale} and ${x}`;
    scale = x;
  }
  return scale > 0 ? scale : `block "${name}" is laid out with the scale 0`;
}

function described(name: string, parts: readonly DxfPart[], laid: DxfPiece['laid']): DxfPiece {
  const words = parts.flatMap((part) => part.text?.words ?? []);
  return {
    name: systemText(words, 'piece name') ?? name,
    size: systemText(words, 'size'),
    quantity: systemText(words, 'quantity'),
    parts,
    laid,
  };
}

/** Without blocks: one piece for each closed boundary, with everything that lies in it or nearest to it. */
function loosePieces(parts: readonly DxfPart[]): DxfPiece[] {
  const lines = parts.flatMap((part) =>
    part.layer === LAYER.boundary && part.line !== null ? [part.line] : [],
  );
  const boundaries = joinedLines(lines);
  const outlines: Outline[] = boundaries.map((line) => line.points);
  const own: DxfPart[][] = boundaries.map((line) => [
    { layer: LAYER.boundary, line, point: null, text: null },
  ]);
  for (const part of parts) {
    const at = placeOf(part);
    if (at === null || outlines.length === 0 || (part.layer === LAYER.boundary && part.line !== null))
      continue;
    const inside = outlines.findIndex((outline) => contains(outline, at));
    own[inside >= 0 ? inside : nearestOutline(outlines, at)].push(part);
  }
  return own.map((one, i) => described(`piece ${i + 1}`, one, []));
}

const placeOf = ({ line, point, text }: DxfPart): Point | null =>
  point ?? text?.at ?? (line === null ? null : line.points[Math.floor(line.points.length / 2)]);

function nearestOutline(outlines: readonly Outline[], at: Point): number {
  const away = outlines.map((outline) => nearestPlace(outline, at).distanceMm);
  return away.indexOf(Math.min(...away));
}
