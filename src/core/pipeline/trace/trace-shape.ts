import type { Point } from '../../math/matrix3.js';
import { erodeMask } from '../../raster/erode-mask.js';
import { fillPolygon } from '../../raster/fill-polygon.js';
import type { Raster } from '../../raster/raster.js';
import { clothMap } from '../../rectify/camera-plane.js';
import type { ClothSheet } from '../../rectify/cloth-picture.js';
import type { PaperPlane } from '../../rectify/paper-plane/solve-paper-plane.js';
import { deepenDarts } from '../../trace/marks/deepen-darts.js';
import { drawnOutlines } from '../../trace/marks/drawn-outline.js';
import { edgeMarks } from '../../trace/marks/edge-marks.js';
import { type FlatSheet, insideOf, sheetFromPlane } from '../../trace/marks/flat-sheet.js';
import { grainLine } from '../../trace/marks/grain-line.js';
import { runningOn } from '../../trace/marks/inner-edges.js';
import { type PenStrokes, penStrokes } from '../../trace/marks/pen-strokes.js';
import { isRulerStrip } from '../../trace/marks/ruler-strip.js';
import { thingsOnPaper } from '../../trace/marks/things-on-paper.js';
import { bridgeHidden } from '../../trace/outline/bridge-hidden.js';
import { evenly } from '../../trace/outline/edge-samples.js';
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

/** Strokes that run along this much of the paper's edge are an outline that was meant to close; so far from the edge at most, mm. */
const MEANT_PART = 0.7;
const MEANT_MM = 40;
/** A stretch of drawn line that is hidden is told of from this length on, mm. */
const TOLD_HIDDEN_MM = 8;
/** A dart's point that is carried on by this much is told of, mm. */
const TOLD_DART_MM = 5;
/** So much of a drawn line's own length is seen as a stroke, where nothing hides it, of the usual stroke's strength. */
const LEAST_SEEN = 0.8;
const LEAST_STROKE = 0.3;

/** What a piece of paper turned out to be: its shapes, several where several outlines are drawn on it; or why there is none. */
export type ShapesOfPaper =
  | readonly Omit<TracedShape, 'outlineSdMm' | 'coveredMm'>[]
  | 'no line'
  | 'two sheets'
  | 'a ruler';

/** The shapes of one piece of paper: its drawn outlines where asked for and there, else its edge; with marks and grain line. */
export function traceShape(
  picture: Raster<Uint8Array>,
  edge: readonly Point[],
  sheet: ClothSheet,
  plane: PaperPlane,
  {
    wanted,
    things,
  }: { readonly wanted: 'auto' | 'edge' | 'drawn'; readonly things: readonly (readonly Point[])[] },
): ShapesOfPaper {
  const { clothFromPicture } = clothMap(plane.camera);
  const traced = outlineOf(edge.map(([x, y]) => clothFromPicture(x, y)));
  const part = partOfSheet(sheet, extentOf(traced.outline, ABOUT_MM));
  if (isRulerStrip(part, traced)) return 'a ruler';
  const cut = deepenDarts(part, traced);
  const paper = insideOf(part, cut.outline);
  const strokes = penStrokes(part, paper);
  const hiding = things.map((thing) => thing.map(([x, y]) => clothFromPicture(x, y)));
  const drawn =
    wanted === 'edge' ? [] : drawnShapes(picture, part, { paper, edge: cut.outline, hiding }, strokes, plane);
  if (drawn.length === 0 && runningOn(part, cut.outline, cut.corners).length >= 2) return 'two sheets';
  if (wanted === 'drawn' && drawn.length === 0) return 'no line';
  const isOpen = wanted === 'auto' && drawn.length === 0 && isMeantToClose(part, cut.outline, strokes);
  const shapes: readonly (TracedOutline & { hiddenMm: number })[] =
    drawn.length > 0 ? drawn : [{ ...cut, hiddenMm: 0 }];
  const dartMm = drawn.length > 0 || cut.carriedMm < TOLD_DART_MM ? 0 : cut.carriedMm;
  return shapes.map((shape) => ({
    ...marked(part, shape, strokes),
    line: drawn.length > 0 ? 'drawn' : 'edge',
    hiddenMm: shape.hiddenMm > TOLD_HIDDEN_MM ? shape.hiddenMm : 0,
    isOpen,
    dartMm,
  }));
}

/** A shape with the marks across its outline and its grain line. */
function marked(
  part: FlatSheet,
  shape: TracedOutline,
  strokes: PenStrokes,
): TracedOutline & Pick<TracedShape, 'grain'> {
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
    grain: grainLine(part, inner),
  };
}

/** Whether strokes run inside nearly all of the edge, though they close nowhere. */
function isMeantToClose(part: FlatSheet, outline: readonly Point[], { mask }: PenStrokes): boolean {
  const line = evenly(outline, 5);
  const n = line.length;
  const beside = line.filter((p, i) => {
    const [a, b] = [line[(i + n - 1) % n], line[(i + 1) % n]];
    const length = Math.hypot(b[0] - a[0], b[1] - a[1]) || 1;
    // Counter-clockwise: the inside is to the left.
    const [nx, ny] = [-(b[1] - a[1]) / length, (b[0] - a[0]) / length];
    for (let mm = 2.5; mm < MEANT_MM; mm += 0.4) {
      const [x, y] = sheetFromPlane(part, [p[0] + mm * nx, p[1] + mm * ny]).map(Math.floor);
      if (x >= 0 && y >= 0 && x < part.width && y < part.height && mask[y * part.width + x]) return true;
    }
    return false;
  });
  return beside.length > MEANT_PART * n;
}

/** A sheet of paper: 1 inside its edge, that edge, and what else lies about, plane mm. */
interface PaperSeen {
  readonly paper: Uint8Array;
  readonly edge: readonly Point[];
  readonly hiding: readonly (readonly Point[])[];
}

/** Next to a thing a line is not seen for its shadow and the blur, mm. */
const ABOUT_THING_MM = 2;

function fillOver(part: FlatSheet, mask: Uint8Array, thing: readonly Point[]): void {
  fillPolygon(
    mask,
    part.width,
    part.height,
    thing.map((p) => sheetFromPlane(part, p)),
    1,
  );
}

function grownMask(mask: Uint8Array, { width, height, pxPerMm }: FlatSheet, byMm: number): Uint8Array {
  const bare = mask.map((v) => 1 - v);
  return erodeMask(bare, width, height, Math.round(byMm * pxPerMm)).map((v) => 1 - v);
}

function drawnShapes(
  picture: Raster<Uint8Array>,
  part: FlatSheet,
  { paper, edge, hiding }: PaperSeen,
  strokes: PenStrokes,
  plane: PaperPlane,
): (TracedOutline & { hiddenMm: number })[] {
  const things = thingsOnPaper(part, paper);
  for (const thing of hiding) fillOver(part, things, thing);
  const about = grownMask(things, part, ABOUT_THING_MM);
  const { clothFromPicture, pictureFromCloth } = clothMap(plane.camera);
  const isHidden = (p: Point): boolean => {
    const [x, y] = sheetFromPlane(part, p).map(Math.floor);
    return x >= 0 && y >= 0 && x < part.width && y < part.height && about[y * part.width + x] === 1;
  };
  return drawnOutlines(part, paper, edge, strokes, things).flatMap((around) => {
    const rough = bridgeHidden(around, isHidden);
    const inPicture = rough.points.map(([u, v]) => pictureFromCloth(u, v));
    const pxPerMm = lengthOf(inPicture) / lengthOf(rough.points);
    const isHiddenInPicture = ([x, y]: Point): boolean => isHidden(clothFromPicture(x, y));
    const places = followStroke(picture, inPicture, REACH_MM * pxPerMm, SIDE_MM * pxPerMm, isHiddenInPicture);
    const open = places.filter(({ at }) => !isHiddenInPicture(at));
    const seen = open.filter(({ sharpness }) => sharpness > LEAST_STROKE).length;
    if (seen < LEAST_SEEN * open.length) return [];
    const shape = outlineOf(places.map(({ at: [x, y] }) => clothFromPicture(x, y)));
    return [{ ...shape, hiddenMm: rough.hiddenMm }];
  });
}

const lengthOf = (line: readonly Point[]): number =>
  line.reduce((sum, [x, y], k) => {
    const [nx, ny] = line[(k + 1) % line.length];
    return sum + Math.hypot(nx - x, ny - y);
  }, 0);

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
