import type { Point } from '../../math/matrix3.js';
import {
  lengthToMm,
  nearestPlace,
  type OutlinePlace,
  partOfOutline,
  pointAlong,
} from '../geometry/along-outline.js';
import { placeWords } from '../geometry/check-shape.js';
import { distanceMm, lineLengthMm, type Outline, perimeterMm } from '../geometry/outline.js';
import { ON_LINE_MM, type Piece, type Seam } from '../piece/pieces-file.js';
import { FLATNESS_MM } from './curves.js';
import type { DrawnPiece, DrawnSeam } from './drawn-piece.js';

export interface PlacedSeams {
  /** The stitching line in the order in which most seams were drawn. */
  readonly stitching: Outline;
  readonly seams: readonly Seam[];
  /** Those given, and the ends of seams that no given point is at. */
  readonly points: Piece['points'];
  /** Seams drawn against the order of the rest: they start where they were drawn to end. */
  readonly against: readonly string[];
}

/** Both lines are flattened on their own. */
const ALONG_MM = ON_LINE_MM + 2 * FLATNESS_MM;

/**
 * Seams of a drawing as parts of the stitching line. All seams of a piece run in the order of its line, so the line is listed in the
 * order in which most of them were drawn. A text that says what is wrong, and where, when a seam is not on the line.
 */
export function placeSeams(drawn: DrawnPiece, outline: Outline): PlacedSeams | string {
  const spans: { seam: DrawnSeam; from: OutlinePlace; to: OutlinePlace; forward: boolean }[] = [];
  for (const seam of drawn.seams) {
    const off = seam.line.find((p) => nearestPlace(outline, p).distanceMm > ALONG_MM);
    if (off !== undefined) {
      const away = nearestPlace(outline, off).distanceMm;
      return `its seam "${seam.id}" leaves the stitching line by ${+away.toFixed(2)} mm at ${placeWords(off)}`;
    }
    const from = nearestPlace(outline, seam.line[0]);
    const to = nearestPlace(outline, seam.line[seam.line.length - 1]);
    spans.push({ seam, from, to, forward: runsForward(outline, from, to, seam.line) });
  }
  const written = writtenSeams(drawn, outline);
  if (typeof written === 'string') return written;
  const ways = [...spans.map((span) => span.forward), ...written.map((seam) => seam.forward)];
  const turned = 2 * ways.filter((forward) => forward).length < ways.length;

  const points: Record<string, Point> = { ...drawn.points };
  const seams: Seam[] = [];
  const against: string[] = [];
  for (const { seam, from, to, forward } of spans) {
    const start = nameOfEnd(points, seam.from, from.point, `${seam.id} start`);
    const end =
      distanceMm(from.point, to.point) < ON_LINE_MM
        ? start
        : nameOfEnd(points, seam.to, to.point, `${seam.id} end`);
    const runsOn = forward !== turned;
    if (!runsOn) against.push(seam.id);
    seams.push({ id: seam.id, from: runsOn ? start : end, to: runsOn ? end : start });
  }
  for (const { id, from, to, forward } of written) {
    const runsOn = forward !== turned;
    if (!runsOn) against.push(id);
    seams.push({ id, from: runsOn ? from : to, to: runsOn ? to : from });
  }
  return { stitching: turned ? [...outline].reverse() : outline, seams, points, against };
}

/** Whether a line drawn along part of an outline runs as its points are listed: its middle lies on one of the two ways from end to end. */
function runsForward(
  outline: Outline,
  from: OutlinePlace,
  to: OutlinePlace,
  line: readonly Point[],
): boolean {
  const isRing = distanceMm(from.point, to.point) < ON_LINE_MM;
  const early = pointAlong(line, isRing ? 0.25 : 0.5);
  const all = perimeterMm(outline);
  const start = lengthToMm(outline, from);
  const ahead = (place: OutlinePlace): number => (lengthToMm(outline, place) - start + all) % all;
  const passed = ahead(nearestPlace(outline, early));
  return passed < (isRing ? all / 2 : ahead(to));
}

/** The given name; else that of a point already there; else a new point. */
function nameOfEnd(
  points: Record<string, Point>,
  given: string | undefined,
  at: Point,
  fallback: string,
): string {
  if (given !== undefined && points[given] !== undefined && distanceMm(points[given], at) <= ALONG_MM)
    return given;
  const there = Object.keys(points).filter((id) => distanceMm(points[id], at) <= ON_LINE_MM);
  if (there.length > 0) return there[0];
  const name = given !== undefined && points[given] === undefined ? given : fallback;
  points[name] = at;
  return name;
}

/** Seams that are only written: the shorter way between their points, or the longer where they say so. */
function writtenSeams(
  { facts, points }: DrawnPiece,
  outline: Outline,
): (Seam & { readonly forward: boolean })[] | string {
  const seams: (Seam & { readonly forward: boolean })[] = [];
  for (const { id, from, to, long } of facts.seams ?? []) {
    const missing = [from, to].find((end) => !Object.hasOwn(points, end));
    if (missing !== undefined) return `its seam "${id}" ends at the point "${missing}", which is not drawn`;
    const ahead = lineLengthMm(
      partOfOutline(outline, nearestPlace(outline, points[from]), nearestPlace(outline, points[to])),
    );
    const isShort = ahead <= perimeterMm(outline) / 2;
    seams.push({ id, from, to, forward: from === to || isShort !== long });
  }
  return seams;
}
