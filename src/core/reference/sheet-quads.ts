import type { Point } from '../math/matrix3.js';
import type { ColourEdges } from './colour-edges.js';
import { angleBetween, crossing, type EdgeLine, supportOf } from './edge-lines.js';
import { placeWithin, type SheetPose, sheetPose } from './sheet-pose.js';
import type { SheetSpec } from './sheet-sizes.js';

/** Four lines whose crossings could be a sheet's corners. */
export interface SheetQuad {
  readonly pose: SheetPose;
  /** Higher is better: how much of the sides carries edges, less what runs on beyond the corners, lies inside, and is amiss with the shape. */
  readonly score: number;
}

export interface QuadSearch {
  readonly spec: SheetSpec;
  readonly focalPx: number;
  /** Shortest side worth looking at, px. */
  readonly leastSidePx: number;
}

/** A phone held over a table: opposite sides converge and corners open by no more than this. */
const mostConvergenceDeg = 12;
const mostOpeningDeg = 16;
const mostTiltDeg = 30;
/** Ends of sides left out: corners may be round, and lines that stop there are blurred. */
const trim = 0.07;
/** Each side must carry edges over this share of its length. */
const leastSupport = 0.5;
/** A sheet's sides end at its corners: no more than this may run on, in the mean. */
const mostRunOn = 0.4;
/** Paper is plain: edges beside no more than this share of it. A card may be printed all over. */
const mostWithinPlain = 0.08;
/** Shape of the quadrilateral against the sheet's, sides and squareness together, as a coarse search sees it. */
const mostMisfit = 0.08;

/** Quadrilaterals of the sheet's shape with edges along their sides, best first. */
export function sheetQuads(lines: readonly EdgeLine[], edges: ColourEdges, search: QuadSearch): SheetQuad[] {
  const centre: Point = [edges.width / 2, edges.height / 2];
  const found: SheetQuad[] = [];
  for (let i = 0; i < lines.length; i++) {
    for (let j = i + 1; j < lines.length; j++) {
      const [a, b] = [lines[i], lines[j]];
      if (angleBetween(a, b) > mostConvergenceDeg) continue;
      // Each quadrilateral is met once: when its first line is one of this pair.
      const rungs = rungsBetween(a, b, lines.slice(i + 1), edges, search.leastSidePx);
      for (let k = 0; k < rungs.length; k++) {
        for (let m = k + 1; m < rungs.length; m++) {
          const quad = judged(a, b, rungs[k], rungs[m], edges, search, centre);
          if (quad !== null) found.push(quad);
        }
      }
    }
  }
  return found.sort((p, q) => q.score - p.score);
}

/** A line that crosses two others and carries edges between them. */
interface Rung {
  readonly line: EdgeLine;
  readonly onA: Point;
  readonly onB: Point;
  readonly support: number;
}

function rungsBetween(
  a: EdgeLine,
  b: EdgeLine,
  lines: readonly EdgeLine[],
  edges: ColourEdges,
  leastSidePx: number,
): Rung[] {
  const rungs: Rung[] = [];
  for (const line of lines) {
    if (angleBetween(a, line) < 90 - mostOpeningDeg || angleBetween(b, line) < 90 - mostOpeningDeg) continue;
    const onA = crossing(a, line);
    const onB = crossing(b, line);
    if (onA === null || onB === null || !inside(onA, edges) || !inside(onB, edges)) continue;
    if (Math.hypot(onA[0] - onB[0], onA[1] - onB[1]) < leastSidePx) continue;
    const support = sideSupport(line, onA, onB);
    if (support >= leastSupport) rungs.push({ line, onA, onB, support });
  }
  return rungs;
}

function judged(
  a: EdgeLine,
  b: EdgeLine,
  first: Rung,
  second: Rung,
  edges: ColourEdges,
  { spec, focalPx, leastSidePx }: QuadSearch,
  centre: Point,
): SheetQuad | null {
  const rails = (distance(first.onA, second.onA) + distance(first.onB, second.onB)) / 2;
  const rungs = (distance(first.onA, first.onB) + distance(second.onA, second.onB)) / 2;
  if (rails < leastSidePx || angleBetween(first.line, second.line) > mostConvergenceDeg) return null;
  const shape = Math.max(rails, rungs) / Math.min(rails, rungs) / (spec.longMm / spec.shortMm);
  if (shape < 0.8 || shape > 1.25) return null;
  const onA = sideSupport(a, first.onA, second.onA);
  const onB = sideSupport(b, first.onB, second.onB);
  if (onA < leastSupport || onB < leastSupport) return null;
  const beyond =
    (runOn(a, first.onA, second.onA) +
      runOn(b, first.onB, second.onB) +
      runOn(first.line, first.onA, first.onB) +
      runOn(second.line, second.onA, second.onB)) /
    4;
  if (beyond > mostRunOn) return null;
  const pose = sheetPose([first.onA, second.onA, second.onB, first.onB], spec, focalPx, centre);
  if (pose === null || pose.tiltDeg > mostTiltDeg) return null;
  const misfit = Math.abs(pose.sideMisfit) + Math.abs(pose.squareMisfit);
  if (misfit > mostMisfit) return null;
  const within = edgesWithin(edges, pose.corners);
  if (spec.plain && within > mostWithinPlain) return null;
  const support = (onA + onB + first.support + second.support) / 4;
  return { pose, score: support - 0.4 * beyond - 0.4 * within - 2 * misfit };
}

const place = (line: EdgeLine, p: Point): number => line.dx * p[0] + line.dy * p[1];
const distance = (p: Point, q: Point): number => Math.hypot(p[0] - q[0], p[1] - q[1]);

function sideSupport(line: EdgeLine, from: Point, to: Point): number {
  const t0 = place(line, from);
  const t1 = place(line, to);
  return supportOf(line, t0 + trim * (t1 - t0), t1 - trim * (t1 - t0));
}

/** How much of a line's edges go on past both ends of a side, over a fifth of its length: a sheet's do not. */
function runOn(line: EdgeLine, from: Point, to: Point): number {
  const t0 = place(line, from);
  const t1 = place(line, to);
  const step = 0.2 * (t1 - t0);
  return (supportOf(line, t0 - step, t0 - 0.2 * step) + supportOf(line, t1 + 0.2 * step, t1 + step)) / 2;
}

const inside = ([x, y]: Point, { width, height }: ColourEdges): boolean =>
  x > 1 && y > 1 && x < width - 1 && y < height - 1;

/** Share of places within the quadrilateral that have an edge beside them. */
function edgesWithin(edges: ColourEdges, corners: SheetPose['corners']): number {
  const places = 24;
  let hits = 0;
  for (let j = 0; j < places; j++) {
    for (let i = 0; i < places; i++) {
      const s = 0.08 + (0.84 * (i + 0.5)) / places;
      const t = 0.08 + (0.84 * (j + 0.5)) / places;
      const [x, y] = placeWithin(corners, s, t).map(Math.floor);
      let hit = 0;
      for (let dy = -1; dy <= 1; dy++) {
        for (let dx = -1; dx <= 1; dx++) {
          if (edges.direction[(y + dy) * edges.width + x + dx] > 0) hit = 1;
        }
      }
      hits += hit;
    }
  }
  return hits / (places * places);
}
