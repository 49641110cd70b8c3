import type { Point } from '../../math/matrix3.js';
import { erodeMask } from '../../raster/erode-mask.js';
import { regionsOf } from '../ground/regions.js';
import { borderLine } from '../outline/border-line.js';
import { type FlatSheet, planeFromSheet } from './flat-sheet.js';
import type { PenStrokes } from './pen-strokes.js';

/** Breaks in a drawn line up to twice this are closed, mm. */
const CLOSE_MM = 0.9;
/** A line that runs all round the piece encloses at least this much of the paper. */
const LEAST_PART = 0.25;
/** From the paper's edge inwards nothing is drawn that could be told from the edge, mm. */
const RIM_MM = 1.6;

/**
 * The closed line drawn on the paper, all round inside its edge, as a rough line about its outer side: what cannot be reached from the
 * paper's edge without crossing a stroke. Plane mm, clockwise as seen; null where every stroke can be gone round.
 */
export function drawnOutline(sheet: FlatSheet, paper: Uint8Array, { mask }: PenStrokes): Point[] | null {
  const { width, height, pxPerMm } = sheet;
  const grow = Math.max(1, Math.round(CLOSE_MM * pxPerMm));
  const bare = mask.map((v) => 1 - v) as unknown as Uint8Array;
  const open = erodeMask(bare, width, height, grow);
  const deep = erodeMask(paper, width, height, Math.round(RIM_MM * pxPerMm));
  // What lies outside the paper, its rim included, is one with it.
  const free = Uint8Array.from(open, (v, i) => (deep[i] ? v : 1));
  const { labels } = regionsOf(free, width, height);
  const outside = labels[0];
  const enclosed = Uint8Array.from(labels, (label, i) => (deep[i] && label !== outside ? 1 : 0));
  // Single strokes outside the line are enclosed by nothing: they are thin.
  const thick = grow + Math.round(1.2 * pxPerMm);
  const core = erodeMask(enclosed, width, height, thick);
  const cores = regionsOf(core, width, height);
  const [largest] = cores.regions;
  const area = paper.reduce((sum, v) => sum + v, 0);
  if (largest === undefined || largest.area < LEAST_PART * area) return null;
  const own = Float32Array.from(cores.labels, (label) => (label === largest.label ? 1 : 0));
  const grown = dilated(own, width, height, thick - grow);
  const line = borderLine(grown, width, height);
  return line?.map((p) => planeFromSheet(sheet, p)) ?? null;
}

function dilated(mask: Float32Array, width: number, height: number, reach: number): Float32Array {
  const inverse = Uint8Array.from(mask, (v) => (v > 0 ? 0 : 1));
  return Float32Array.from(erodeMask(inverse, width, height, reach), (v) => 1 - v);
}
