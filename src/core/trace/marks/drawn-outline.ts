import { convexHull } from '../../math/convex-hull.js';
import type { Point } from '../../math/matrix3.js';
import { erodeMask } from '../../raster/erode-mask.js';
import { isInsidePolygon } from '../../raster/fill-polygon.js';
import { regionsOf } from '../ground/regions.js';
import { borderLine } from '../outline/border-line.js';
import { type FlatSheet, planeFromSheet } from './flat-sheet.js';
import type { PenStrokes } from './pen-strokes.js';

/** Breaks in a drawn line up to twice this are closed, mm. */
const CLOSE_MM = 0.9;
/** From the paper's edge inwards nothing is drawn that could be told from the edge, mm. */
const RIM_MM = 1.6;
/** Parts of the paper that lines enclose which run all round inside its edge: pockets and darts are drawn on it as well. */
const MOST_OF_IT = 0.25;
const SOME_OF_IT = 0.1;
/** Other outlines drawn on the same paper are no smaller than this part of the largest; the least piece of a pattern, mm2. */
const LEAST_PART = 0.3;
const LEAST_MM2 = 1500;

/** A closed line drawn on the paper, rough: about its outer side. Plane mm, clockwise as seen. */
export type DrawnLine = readonly Point[];

/**
 * The closed lines drawn on the paper, which together run all round inside its edge: what cannot be reached from the paper's edge without
 * crossing a stroke, or something that lies on the paper and may hide one. Empty where every stroke can be gone round.
 *
 * @param edge the paper's, plane mm
 * @param things 1 where something lies on the paper, size of the sheet
 */
export function drawnOutlines(
  sheet: FlatSheet,
  paper: Uint8Array,
  edge: readonly Point[],
  { mask }: PenStrokes,
  things: Uint8Array,
): DrawnLine[] {
  const { width, height, pxPerMm } = sheet;
  const grow = Math.max(1, Math.round(CLOSE_MM * pxPerMm));
  const bare = mask.map((v, i) => 1 - (v | things[i]));
  const open = erodeMask(bare, width, height, grow);
  const deep = erodeMask(paper, width, height, Math.round(RIM_MM * pxPerMm));
  // What lies outside the paper, its rim included, is one with it.
  const free = Uint8Array.from(open, (v, i) => (deep[i] ? v : 1));
  const { labels } = regionsOf(free, width, height);
  const outside = labels[0];
  const enclosed = Uint8Array.from(labels, (label, i) => (deep[i] && label !== outside ? 1 : 0));
  // Single strokes outside the line are enclosed by nothing: they are thin.
  const thick = grow + Math.round(1.2 * pxPerMm);
  const cores = regionsOf(erodeMask(enclosed, width, height, thick), width, height);
  const largest = cores.regions[0]?.area ?? 0;
  const lines = cores.regions
    .filter(({ area }) => area >= LEAST_PART * largest && area >= LEAST_MM2 * pxPerMm ** 2)
    .flatMap(({ label }) => {
      const own = Uint8Array.from(cores.labels, (v) => (v === label ? 1 : 0));
      const line = borderLine(dilated(own, width, height, thick - grow), width, height);
      return line === null ? [] : [line.map((p) => planeFromSheet(sheet, p))];
    });
  return lines.length > 0 && runAllRound(lines, edge) ? lines : [];
}

/** The hull of all lines has a good part of the paper's area, or less of it about the paper's middle. */
function runAllRound(lines: readonly DrawnLine[], edge: readonly Point[]): boolean {
  const hull = convexHull(lines.flat());
  const part = areaOf(hull) / areaOf(edge);
  const mean = (k: 0 | 1): number => edge.reduce((sum, p) => sum + p[k], 0) / edge.length;
  return part >= MOST_OF_IT || (part >= SOME_OF_IT && isInsidePolygon([mean(0), mean(1)], hull));
}

const areaOf = (polygon: readonly Point[]): number =>
  Math.abs(
    polygon.reduce((sum, [x, y], k) => {
      const [u, v] = polygon[(k + 1) % polygon.length];
      return sum + x * v - y * u;
    }, 0) / 2,
  );

function dilated(mask: Uint8Array, width: number, height: number, reach: number): Float32Array {
  const inverse = mask.map((v) => 1 - v);
  return Float32Array.from(erodeMask(inverse, width, height, reach), (v) => 1 - v);
}
