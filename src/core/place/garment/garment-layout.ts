import type { Point } from '../../math/matrix3.js';
import { areaMm2, extentOf } from '../../pieces/geometry/outline.js';
import { areaOutsideMm2 } from '../../pieces/geometry/polygons.js';
import type { FoundJoin } from '../plan/plan-terms.js';
import type { CopyShape } from '../shape/copy-shape.js';
import { type Path, placeOn } from '../shape/path.js';

/**
 * Where a copy lies in the picture of the garment: (p, q) of its stripe frame goes to x = a p + c q + e, y = b p + d q + f, mm, y up. Copies
 * are seen from the outside, so a mirrored one is drawn mirrored.
 */
export type GarmentFromShape = readonly [number, number, number, number, number, number];

/** Copies may lie over one another by this part of the smaller: curved seams laid flat do. */
const MOST_OVERLAP = 0.02;
/** Between parts of the garment that no join holds together, mm. */
const GAP_MM = 60;

/**
 * The garment laid flat, pieces beside each other along the plan's joins: the straight line from start to end of a seam on that of its mate. A join
 * that would lay a copy over others is left open in the picture; parts that nothing holds are set beside each other.
 */
export function garmentLayout(shapes: readonly CopyShape[], joins: readonly FoundJoin[]): GarmentFromShape[] {
  const laid: (GarmentFromShape | null)[] = shapes.map(() => null);
  const parts: number[][] = [];
  for (let first = 0; first < shapes.length; first++) {
    if (laid[first] !== null) continue;
    const part = [first];
    laid[first] = asDrawn(shapes[first]);
    for (let k = 0; k < part.length; k++) {
      for (const { from, to } of sidesAt(part[k], joins)) {
        if (laid[to.copy] !== null || to.copy === from.copy) continue;
        const at = beside(laid[part[k]] as GarmentFromShape, from.path, to.path, shapes[to.copy]);
        if (isFree(shapes, laid, to.copy, at)) {
          laid[to.copy] = at;
          part.push(to.copy);
        }
      }
    }
    parts.push(part);
  }
  return inRows(shapes, laid as GarmentFromShape[], parts);
}

export const garmentOutline = ({ outline }: CopyShape, at: GarmentFromShape): Point[] =>
  outline.map((place) => throughMatrix(at, place));

export const throughMatrix = ([a, b, c, d, e, f]: GarmentFromShape, [p, q]: Point): Point => [
  a * p + c * q + e,
  b * p + d * q + f,
];

/** As the piece is drawn in its own frame, a mirrored copy mirrored. */
export function asDrawn({ turn: [c, s], mirrored }: CopyShape): GarmentFromShape {
  const flip = mirrored ? -1 : 1;
  return [flip * c, -s, flip * s, c, 0, 0];
}

function sidesAt(copy: number, joins: readonly FoundJoin[]) {
  return joins.flatMap(({ left, right }) => [
    ...(left.copy === copy ? [{ from: left, to: right }] : []),
    ...(right.copy === copy ? [{ from: right, to: left }] : []),
  ]);
}

/** The copy turned and moved so that its seam's straight line lies on the mate's, start on start, middle on middle. */
function beside(mate: GarmentFromShape, mateSeam: Path, seam: Path, shape: CopyShape): GarmentFromShape {
  const ends = (path: Path, at: GarmentFromShape): [Point, Point] => [
    throughMatrix(at, placeOn(path, 0)),
    throughMatrix(at, placeOn(path, path.lengthMm)),
  ];
  const [m0, m1] = ends(mateSeam, mate);
  const own = asDrawn(shape);
  const [s0, s1] = ends(seam, own);
  const turn = Math.atan2(m1[1] - m0[1], m1[0] - m0[0]) - Math.atan2(s1[1] - s0[1], s1[0] - s0[0]);
  const [cos, sin] = [Math.cos(turn), Math.sin(turn)];
  const [a, b, c, d] = own;
  const turned: GarmentFromShape = [
    cos * a - sin * b,
    sin * a + cos * b,
    cos * c - sin * d,
    sin * c + cos * d,
    0,
    0,
  ];
  const [t0, t1] = ends(seam, turned);
  return moved(turned, (m0[0] + m1[0] - t0[0] - t1[0]) / 2, (m0[1] + m1[1] - t0[1] - t1[1]) / 2);
}

const moved = ([a, b, c, d, e, f]: GarmentFromShape, x: number, y: number): GarmentFromShape => [
  a,
  b,
  c,
  d,
  e + x,
  f + y,
];

function isFree(
  shapes: readonly CopyShape[],
  laid: readonly (GarmentFromShape | null)[],
  copy: number,
  at: GarmentFromShape,
): boolean {
  const outline = garmentOutline(shapes[copy], at);
  return laid.every((other, k) => {
    if (other === null) return true;
    const neighbour = garmentOutline(shapes[k], other);
    const over = areaMm2(outline) - areaOutsideMm2(outline, neighbour);
    return over <= MOST_OVERLAP * Math.min(areaMm2(outline), areaMm2(neighbour));
  });
}

/** Width of the whole to its height, about: what pages and screens are. */
const WIDE = 2;

/** Parts of the garment in rows, the largest first, each row's heads on one line. */
function inRows(
  shapes: readonly CopyShape[],
  laid: readonly GarmentFromShape[],
  parts: readonly (readonly number[])[],
): GarmentFromShape[] {
  const boxes = parts
    .map((part) => ({
      part,
      box: extentOf(part.flatMap((copy) => garmentOutline(shapes[copy], laid[copy]))),
    }))
    .map(({ part, box }) => ({ part, box, width: box.right - box.left, height: box.top - box.bottom }))
    .sort((a, b) => b.height * b.width - a.height * a.width);
  const area = boxes.reduce((sum, { width, height }) => sum + (width + GAP_MM) * (height + GAP_MM), 0);
  const rowMm = Math.max(Math.sqrt(area * WIDE), ...boxes.map(({ width }) => width));
  const placed = [...laid];
  let x = 0;
  let topMm = 0;
  let tallMm = 0;
  for (const { part, box, width, height } of boxes) {
    if (x > 0 && x + width > rowMm) {
      topMm -= tallMm + GAP_MM;
      [x, tallMm] = [0, 0];
    }
    for (const copy of part) placed[copy] = moved(laid[copy], x - box.left, topMm - box.top);
    x += width + GAP_MM;
    tallMm = Math.max(tallMm, height);
  }
  return placed;
}
