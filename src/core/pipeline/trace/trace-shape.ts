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
import { runningOn } from '../../trace/marks/inner-edges.js';
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

/** The shape of one piece: its drawn outline where asked for and there, else its edge; its marks and grain line. Or why there is none. */
export function traceShape(
  picture: Raster<Uint8Array>,
  edge: readonly Point[],
  sheet: ClothSheet,
  plane: PaperPlane,
  wanted: 'auto' | 'edge' | 'drawn',
): Omit<TracedShape, 'outlineSdMm'> | 'no line' | 'two sheets' | 'a ruler' {
  const { clothFromPicture } = clothMap(plane.camera);
  const cut = outlineOf(edge.map(([x, y]) => clothFromPicture(x, y)));
  const part = partOfSheet(sheet, extentOf(cut.outline, ABOUT_MM));
  const paper = insideOf(part, cut.outline);
  const strokes = penStrokes(part, paper);
  if (isRuler(cut, strokes, paper)) return 'a ruler';
  if (runningOn(part, cut.outline, cut.corners).length >= 2) return 'two sheets';
  const drawn = wanted === 'edge' ? null : drawnShape(picture, part, paper, strokes, plane);
  if (wanted === 'drawn' && drawn === null) return 'no line';
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

/** A ruler is no wider than this, mm, so many times as long as wide, and so much of it is marks. */
const RULER_WIDE_MM = 50;
const RULER_ASPECT = 5;
const RULER_MARKS = 0.04;

/** Whether a straight strip is full of marks: a ruler that could not be read. */
function isRuler({ outline, corners }: TracedOutline, { mask }: PenStrokes, paper: Uint8Array): boolean {
  if (corners.length < 4 || corners.length > 6) return false;
  const length = Math.max(
    ...corners.flatMap(({ at: a }) => corners.map(({ at: b }) => Math.hypot(a[0] - b[0], a[1] - b[1]))),
  );
  const area = Math.abs(
    outline.reduce((sum, [x, y], k) => {
      const [nx, ny] = outline[(k + 1) % outline.length];
      return sum + x * ny - y * nx;
    }, 0) / 2,
  );
  const wide = area / length;
  if (wide > RULER_WIDE_MM || length < RULER_ASPECT * wide) return false;
  const marks = mask.reduce((sum, v, i) => sum + (v & paper[i]), 0);
  return marks > RULER_MARKS * paper.reduce((sum, v) => sum + v, 0);
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
