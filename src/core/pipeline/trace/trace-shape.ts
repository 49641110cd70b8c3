import type { Point } from '../../math/matrix3.js';
import { erodeMask } from '../../raster/erode-mask.js';
import type { Raster } from '../../raster/raster.js';
import { clothMap } from '../../rectify/camera-plane.js';
import type { ClothSheet } from '../../rectify/cloth-picture.js';
import type { PaperPlane } from '../../rectify/paper-plane/solve-paper-plane.js';
import { drawnOutline } from '../../trace/marks/drawn-outline.js';
import { edgeMarks } from '../../trace/marks/edge-marks.js';
import { type FlatSheet, insideOf } from '../../trace/marks/flat-sheet.js';
import { grainLine } from '../../trace/marks/grain-line.js';
import { type PenStrokes, penStrokes } from '../../trace/marks/pen-strokes.js';
import { followStroke } from '../../trace/outline/follow-edge.js';
import { outlineOf, type TracedOutline } from '../../trace/outline/outline-of.js';
import { partOfSheet } from './flat-sheet-of.js';
import type { TracedShape } from './traced-paper.js';

/** How far the rough drawn line may lie off its middle, mm, and where paper shows beside it. */
const REACH_MM = 2.2;
const SIDE_MM = 1.1;
/** Table about the piece that its picture takes in, mm. */
const ABOUT_MM = 8;
/** The outline's own stroke, and marks across it, are no grain line, mm. */
const CLEAR_MM = 2;
/** Two marks nearer than this are one that was found twice, mm. */
const SAME_MM = 5;

/** The shape of one piece: its drawn outline where asked for and there, else its edge; its marks and grain line. Null: no line where one must be. */
export function traceShape(
  picture: Raster<Uint8Array>,
  edge: readonly Point[],
  sheet: ClothSheet,
  plane: PaperPlane,
  wanted: 'auto' | 'edge' | 'drawn',
): Omit<TracedShape, 'outlineSdMm'> | null {
  const { clothFromPicture } = clothMap(plane.camera);
  const cut = outlineOf(edge.map(([x, y]) => clothFromPicture(x, y)));
  const part = partOfSheet(sheet, extentOf(cut.outline, ABOUT_MM));
  const paper = insideOf(part, cut.outline);
  const strokes = penStrokes(part, paper);
  const drawn = wanted === 'edge' ? null : drawnShape(picture, part, paper, strokes, plane);
  if (wanted === 'drawn' && drawn === null) return null;
  const shape = drawn ?? cut;
  const marks = edgeMarks(
    part,
    shape.outline,
    shape.corners.map(({ at }) => at),
  );
  const within = erodeMask(
    insideOf(part, shape.outline),
    part.width,
    part.height,
    Math.round(CLEAR_MM * part.pxPerMm),
  );
  const inner = { ...strokes, mask: Uint8Array.from(strokes.mask, (v, i) => v & within[i]) };
  return {
    ...shape,
    notches: withoutTwins([...shape.notches, ...marks], shape.outline),
    line: drawn === null ? 'edge' : 'drawn',
    grain: grainLine(part, inner),
  };
}

function drawnShape(
  picture: Raster<Uint8Array>,
  part: FlatSheet,
  paper: Uint8Array,
  strokes: PenStrokes,
  plane: PaperPlane,
): TracedOutline | null {
  const rough = drawnOutline(part, paper, strokes);
  if (rough === null) return null;
  const { clothFromPicture, pictureFromCloth } = clothMap(plane.camera);
  const inPicture = rough.map(([u, v]) => pictureFromCloth(u, v));
  const pxPerMm =
    Math.hypot(inPicture[1][0] - inPicture[0][0], inPicture[1][1] - inPicture[0][1]) /
    Math.max(1e-6, Math.hypot(rough[1][0] - rough[0][0], rough[1][1] - rough[0][1]));
  const places = followStroke(picture, inPicture, REACH_MM * pxPerMm, SIDE_MM * pxPerMm);
  return outlineOf(places.map(({ at: [x, y] }) => clothFromPicture(x, y)));
}

function extentOf(outline: readonly Point[], about: number): [number, number, number, number] {
  const xs = outline.map((p) => p[0]);
  const ys = outline.map((p) => p[1]);
  return [Math.min(...xs) - about, Math.min(...ys) - about, Math.max(...xs) + about, Math.max(...ys) + about];
}

/** Each mark once, in order along the outline, on it. */
function withoutTwins(marks: readonly Point[], outline: readonly Point[]): Point[] {
  const placed = marks.map((p) => nearestOn(outline, p)).sort((a, b) => a.along - b.along);
  const kept: { at: Point; along: number }[] = [];
  for (const mark of placed) {
    if (kept.every(({ at }) => Math.hypot(at[0] - mark.at[0], at[1] - mark.at[1]) > SAME_MM)) kept.push(mark);
  }
  return kept.map(({ at }) => at);
}

function nearestOn(outline: readonly Point[], [x, y]: Point): { at: Point; along: number } {
  let best = { at: outline[0], along: 0 };
  let least = Number.POSITIVE_INFINITY;
  outline.forEach(([ax, ay], k) => {
    const [bx, by] = outline[(k + 1) % outline.length];
    const dx = bx - ax;
    const dy = by - ay;
    const t = Math.max(0, Math.min(1, ((x - ax) * dx + (y - ay) * dy) / (dx * dx + dy * dy || 1)));
    const d = Math.hypot(x - ax - t * dx, y - ay - t * dy);
    if (d < least) {
      least = d;
      best = { at: [ax + t * dx, ay + t * dy], along: k + t };
    }
  });
  return best;
}
