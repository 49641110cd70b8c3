import { callback, checkFields, oneOf, optional, record } from '../../base/expectation.js';
import { type Outcome, refuse, succeed } from '../../base/outcome.js';
import type { ReferenceRequest } from '../../base/request.js';
import type { Point } from '../../math/matrix3.js';
import type { Photo } from '../../raster/photo.js';
import { type CameraPlane, clothMap } from '../../rectify/camera-plane.js';
import type { PaperPlane, StraightEdge } from '../../rectify/paper-plane/solve-paper-plane.js';
import type { Reference } from '../../reference/reference.js';
import { findPaper, noPaper } from '../../trace/find-paper.js';
import { flatCurve } from '../../trace/outline/arc.js';
import { followEdge } from '../../trace/outline/follow-edge.js';
import { outlineOf } from '../../trace/outline/outline-of.js';
import { checkPhotoAndScale } from '../check-measure-arguments.js';
import { scaleSdOf } from '../scale-uncertainty.js';
import { flatSheet } from './flat-sheet-of.js';
import { paperScale } from './paper-scale.js';
import { planeOfPaper, sidesOfSheet } from './plane-of-paper.js';
import { traceShape } from './trace-shape.js';
import type { TracedPaper, TracedShape } from './traced-paper.js';

export interface TraceOptions {
  /** Which line is the outline; default auto. */
  readonly outline?: 'auto' | 'edge' | 'drawn';
  readonly onStage?: (stage: 'reference' | 'paper' | 'plane' | 'edges') => void;
}

const OPTIONS = record({ outline: optional(oneOf(['auto', 'edge', 'drawn'])), onStage: optional(callback) });
const ANY_RULER: ReferenceRequest = { kind: 'ruler', unit: 'auto' };

/** From one photo of paper to the shapes of its pieces: scale, paper, plane, outlines. Frame of the shapes: the plane, mm, x right, y up. */
export function tracePaper(
  photo: Photo,
  request: ReferenceRequest | null,
  options: TraceOptions = {},
): Outcome<TracedPaper> {
  checkPhotoAndScale(photo, request ?? ANY_RULER);
  checkFields(options, 'options', OPTIONS);
  const { outline = 'auto', onStage } = options;
  onStage?.('reference');
  const found = paperScale(photo, request);
  if (!found.ok) return found;
  const scale = found.value;
  const { references } = scale;
  onStage?.('paper');
  const papers = findPaper(photo.picture, scale.things, references[0].pxPerMm);
  if (!papers.ok) return papers;
  onStage?.('plane');
  const edges = papers.value.map(({ edge }) => edge.map(({ at }) => at));
  const first = planeOfPaper(photo, references, []);
  const straights = [
    ...references.flatMap((reference) => sheetSides(photo, reference)),
    ...edges.flatMap((edge) => flatEdges(edge, first.camera)),
  ];
  const plane = planeOfPaper(photo, references, straights);
  onStage?.('edges');
  const sheet = flatSheet(photo.picture, plane.camera, references[0].pxPerMm);
  const pieces: TracedShape[] = [];
  for (const [k, edge] of edges.entries()) {
    const shapes = traceShape(photo.picture, edge, sheet, plane, { wanted: outline, things: scale.things });
    if (shapes === 'a ruler') continue;
    if (shapes === 'two sheets') return touching();
    if (shapes === 'no line') return noLine();
    const scaleSd = scaleSdOf(references[0], plane.camera.distanceMm);
    for (const shape of shapes) {
      const doubts = [
        shape.scatterMm / 2,
        planeDoubtMm(shape.outline, plane),
        scaleSd * radiusMm(shape.outline),
      ];
      const coveredMm = shape.line === 'edge' ? papers.value[k].coveredMm : 0;
      pieces.push({ ...shape, outlineSdMm: Math.hypot(...doubts), coveredMm });
    }
  }
  return pieces.length > 0 ? succeed({ scale, plane, pieces }) : noPaper();
}

const touching = (): Outcome<never> =>
  refuse(
    'touching',
    'Two pieces of paper touch or overlap',
    'lay them a finger apart and take the photo again',
  );

const noLine = (): Outcome<never> =>
  refuse(
    'no-paper',
    'No closed line drawn on the paper found',
    "draw the outline all round with a dark pen, or trace the paper's edge",
  );

const inPlane = (points: readonly Point[], camera: CameraPlane): Point[] => {
  const { clothFromPicture } = clothMap(camera);
  return points.map(([x, y]) => clothFromPicture(x, y));
};

/** The reference's own straight sides, where it has them: clockwise on the screen. */
function sheetSides({ picture }: Photo, { corners, source }: Reference): StraightEdge[] {
  if (corners === null || source !== 'sheet') return [];
  const area = corners.reduce((sum, [x, y], k) => {
    const [nx, ny] = corners[(k + 1) % 4];
    return sum + x * ny - y * nx;
  }, 0);
  const round = area > 0 ? corners : [...corners].reverse();
  const edge = followEdge(picture, round, 8).map(({ at }) => at);
  return sidesOfSheet(edge, round).filter(({ points }) => points.length > 20);
}

/** Stretches of a piece's edge that are straight or nearly: a lens bends them by a part in two hundred at most. */
const MOST_SAG = 0.005;
/** Shorter ones tell little, mm. */
const LEAST_STRAIGHT_MM = 90;

function flatEdges(edge: readonly Point[], camera: CameraPlane): StraightEdge[] {
  const shape = outlineOf(inPlane(edge, camera));
  const { pictureFromCloth } = clothMap(camera);
  const corners = shape.corners.map(({ at }) => pictureFromCloth(...at));
  return corners.flatMap((a, k) => {
    const b = corners[(k + 1) % corners.length];
    const from = shape.corners[k].at;
    const to = shape.corners[(k + 1) % corners.length].at;
    const lengthMm = Math.hypot(to[0] - from[0], to[1] - from[1]);
    if (lengthMm < LEAST_STRAIGHT_MM) return [];
    const length = Math.hypot(b[0] - a[0], b[1] - a[1]);
    const [cx, cy] = [(b[0] - a[0]) / length, (b[1] - a[1]) / length];
    const own = edge
      .map((p) => ({
        p,
        t: (p[0] - a[0]) * cx + (p[1] - a[1]) * cy,
        o: Math.abs(-(p[0] - a[0]) * cy + (p[1] - a[1]) * cx),
      }))
      .filter(({ t, o }) => t > 0.04 * length && t < 0.96 * length && o < 1.5 * MOST_SAG * length)
      .sort((p, q) => p.t - q.t)
      .map(({ p }) => p);
    if (own.length < (0.3 * length) / 2) return [];
    const bent = flatCurve(own, true);
    const isFlat =
      bent !== null && Math.abs(bent.c[2]) * (length / 2) ** 2 < MOST_SAG * length && bent.rmsMm < 1;
    return isFlat ? [{ points: own, sure: false }] : [];
  });
}

/** How far the outline may be off for what the plane leaves open: root mean square after the best rigid motion, mm. */
function planeDoubtMm(outline: readonly Point[], { camera, others }: PaperPlane): number {
  const few = outline.filter((_, k) => k % Math.max(1, Math.floor(outline.length / 60)) === 0);
  const { pictureFromCloth } = clothMap(camera);
  const inPicture = few.map(([u, v]) => pictureFromCloth(u, v));
  let square = 0;
  for (const other of others) square += rigidMiss(few, inPlane(inPicture, other)) ** 2;
  return Math.sqrt(square);
}

/** Root mean square distance of the outline from its middle: what a scale that is off by a part moves it by that part of. */
function radiusMm(outline: readonly Point[]): number {
  const mean = (k: 0 | 1): number => outline.reduce((sum, p) => sum + p[k], 0) / outline.length;
  const [mx, my] = [mean(0), mean(1)];
  return Math.sqrt(outline.reduce((sum, [x, y]) => sum + (x - mx) ** 2 + (y - my) ** 2, 0) / outline.length);
}

function rigidMiss(a: readonly Point[], b: readonly Point[]): number {
  const n = a.length;
  const mean = (list: readonly Point[], k: 0 | 1): number => list.reduce((sum, p) => sum + p[k], 0) / n;
  const [ax, ay, bx, by] = [mean(a, 0), mean(a, 1), mean(b, 0), mean(b, 1)];
  let re = 0;
  let im = 0;
  a.forEach(([x, y], i) => {
    const [dx, dy, ex, ey] = [x - ax, y - ay, b[i][0] - bx, b[i][1] - by];
    re += dx * ex + dy * ey;
    im += dx * ey - dy * ex;
  });
  const size = Math.hypot(re, im) || 1;
  const [c, s] = [re / size, im / size];
  let sum = 0;
  a.forEach(([x, y], i) => {
    const [dx, dy] = [x - ax, y - ay];
    sum += (b[i][0] - bx - c * dx + s * dy) ** 2 + (b[i][1] - by - s * dx - c * dy) ** 2;
  });
  return Math.sqrt(sum / n);
}
