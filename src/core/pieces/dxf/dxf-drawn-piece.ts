import type { Point } from '../../math/matrix3.js';
import type { DrawnPiece, DrawnSeam } from '../drawn/drawn-piece.js';
import { type DrawnLine, joinedLines } from '../drawn/join-lines.js';
import { lengthToMm, nearestPlace } from '../geometry/along-outline.js';
import { distanceMm, type Outline, sideOfLineMm } from '../geometry/outline.js';
import { offsetOutline } from '../geometry/polygons.js';
import { withoutClosing } from '../piece/complete-pieces.js';
import { type Facts, readFact } from '../piece/facts-text.js';
import { type Copy, ON_LINE_MM } from '../piece/pieces-file.js';
import type { DxfPiece } from './choose-blocks.js';
import type { DxfPart } from './dxf-parts.js';
import { LAYER, NOTCH_LAYERS } from './layers.js';

export interface BoundaryChoice {
  /** What a boundary without sew lines is taken for. */
  readonly boundary: 'stitching' | 'cutting';
  /** With a boundary that is cut along: how far inside it is stitched; null: along the same line. */
  readonly allowanceMm: number | null;
}

export interface DrawnFromDxf {
  readonly drawn: DrawnPiece;
  /** Whether the boundary had to be taken for one of the two lines. */
  readonly guessed: boolean;
  readonly notes: readonly string[];
}

/** What the layers of one piece say, or a text that says what is wrong with it. */
export function drawnFromDxf(id: string, source: DxfPiece, choice: BoundaryChoice): DrawnFromDxf | string {
  const { parts } = source;
  const linesOn = (layer: string): DrawnLine[] =>
    parts.flatMap((part) => (part.layer === layer && part.line !== null ? [part.line] : []));
  const notes: string[] = [];
  const facts = factsOf(parts, notes);
  const lines = outlines(linesOn(LAYER.boundary), linesOn(LAYER.sew), facts, choice, notes);
  const stitched = closedOutline(lines.stitching) ?? closedOutline(lines.cutting);
  if (linesOn(LAYER.cutOut).length > 0) notes.push('its inner cut-outs (layer 11) are left out');

  // Where names are written as this program writes them, none are made up.
  const isNamed = Object.keys(facts).length > 0;
  const { points, notches } = namedPoints(parts, stitched, isNamed);
  const fold = stitched === null ? null : foldOf(linesOn(LAYER.mirror), stitched, notes);
  const seams: DrawnSeam[] = fold === null || facts.fold !== undefined ? [] : [{ id: 'fold', line: fold }];
  return {
    drawn: {
      id,
      stitching: lines.stitching,
      cutting: lines.cutting,
      grain: longest(linesOn(LAYER.grain)),
      stripes: longest(linesOn(LAYER.stripes)),
      seams,
      points,
      notches,
      fold: fold === null ? null : 'fold',
      facts: {
        ...facts,
        name: facts.name ?? source.name,
        copies: facts.copies ?? copiesOf(id, source, notes),
        seams: facts.seams ?? (isNamed ? [] : seamsBetween(points, stitched, fold)),
      },
    },
    guessed: lines.guessed,
    notes,
  };
}

/** What the piece's annotation says in words that are known; notes on cloth and sewing say other things in other words. */
function factsOf(parts: readonly DxfPart[], notes: string[]): Facts {
  let facts: Facts = {};
  for (const { text, layer } of parts) {
    if (text === null || layer !== LAYER.text) continue;
    const next = readFact(text.words, facts);
    if (typeof next === 'string') notes.push(`its annotation ${next}`);
    else facts = next ?? facts;
  }
  return facts;
}

/** Which lines are stitched and which cut. Sew lines that close tell; else the boundary is what it was said or taken to be. */
function outlines(
  boundary: readonly DrawnLine[],
  sew: readonly DrawnLine[],
  facts: Facts,
  { boundary: as, allowanceMm }: BoundaryChoice,
  notes: string[],
): { stitching: readonly DrawnLine[]; cutting: readonly DrawnLine[]; guessed: boolean } {
  const sewn = joinedLines(sew).filter((line) => line.closed);
  if (sewn.length > 0) {
    const same = sewn.length === 1 && isSame(closedOutline(boundary), closedOutline(sewn));
    return {
      stitching: sewn,
      cutting: same || facts.allowance !== undefined ? [] : boundary,
      guessed: false,
    };
  }
  if (sew.length > 0) notes.push('its sew lines (layer 14) do not close and are left out');
  if (as === 'stitching') return { stitching: boundary, cutting: [], guessed: true };
  const cut = closedOutline(boundary);
  if (allowanceMm === null || cut === null) return { stitching: [], cutting: boundary, guessed: false };
  const inside = offsetOutline(cut, -allowanceMm);
  return { stitching: [{ points: inside, closed: true }], cutting: boundary, guessed: false };
}

function closedOutline(lines: readonly DrawnLine[]): Outline | null {
  const closed = joinedLines(lines).filter((line) => line.closed);
  return closed.length === 1 ? withoutClosing(closed[0].points) : null;
}

const isSame = (a: Outline | null, b: Outline | null): boolean =>
  a !== null &&
  b !== null &&
  a.length === b.length &&
  a.every((p, i) => distanceMm(p, b[i]) < ON_LINE_MM / 10);

/** Points named by a text at their place, notches, drill holes, and turn points that have no other name, in order along the line. */
function namedPoints(
  parts: readonly DxfPart[],
  outline: Outline | null,
  isNamed: boolean,
): { points: Record<string, Point>; notches: string[] } {
  const points: Record<string, Point> = {};
  const notches: string[] = [];
  for (const { text, layer } of parts) {
    const name = text === null || layer !== LAYER.text ? null : /^(point|notch) (.+)$/i.exec(text.words);
    if (text === null || name === null) continue;
    points[name[2]] = text.at;
    if (name[1].toLowerCase() === 'notch') notches.push(name[2]);
  }
  const along = (p: Point): number => (outline === null ? 0 : lengthToMm(outline, nearestPlace(outline, p)));
  const on = (layers: (layer: string) => boolean): Point[] =>
    parts
      .filter((part) => layers(part.layer))
      .flatMap((part) => (part.point === null ? [] : [part.point]))
      .sort((p, q) => along(p) - along(q));
  const add = (letter: string, places: readonly Point[]): string[] =>
    places.flatMap((at) => {
      if (Object.values(points).some((other) => distanceMm(other, at) <= ON_LINE_MM)) return [];
      let k = 1;
      while (Object.hasOwn(points, `${letter}${k}`)) k++;
      points[`${letter}${k}`] = at;
      return [`${letter}${k}`];
    });
  notches.push(
    ...add(
      'n',
      on((layer) => NOTCH_LAYERS.has(layer)),
    ),
  );
  if (isNamed) return { points, notches };
  const turns = on((layer) => layer === LAYER.turnPoints);
  // Turn points stand at the corners of every line: those of the stitching line are asked for.
  add('c', outline === null ? turns : turns.filter((p) => nearestPlace(outline, p).distanceMm <= ON_LINE_MM));
  add(
    'd',
    on((layer) => layer === LAYER.drillHoles),
  );
  return { points, notches };
}

/** The part of the stitching line that lies on the mirror line, between the farthest of its points there. */
function foldOf(
  lines: readonly DrawnLine[],
  outline: Outline,
  notes: string[],
): readonly [Point, Point] | null {
  const mirror = longest(lines);
  if (mirror === null) return null;
  const [a, b] = mirror;
  const on = outline.filter((p) => Math.abs(sideOfLineMm(p, a, b)) <= ON_LINE_MM);
  const sides = outline.map((p) => sideOfLineMm(p, a, b));
  const isWithin = Math.min(...sides) < -1 && Math.max(...sides) > 1;
  if (on.length < 2 || isWithin) {
    notes.push('its mirror line (layer 6) is no edge of it: the piece is taken as whole');
    return null;
  }
  const at = (p: Point): number => (p[0] - a[0]) * (b[0] - a[0]) + (p[1] - a[1]) * (b[1] - a[1]);
  const sorted = [...on].sort((p, q) => at(p) - at(q));
  const [first, last] = [sorted[0], sorted[sorted.length - 1]];
  // In the order in which the outline is listed, so that other seams keep theirs.
  const i = outline.indexOf(first);
  const goesOn = outline[(i + 1) % outline.length];
  return on.includes(goesOn) ? [first, last] : [last, first];
}

function longest(lines: readonly DrawnLine[]): readonly [Point, Point] | null {
  const ends = lines.map(({ points }) => [points[0], points[points.length - 1]] as const);
  if (ends.length === 0) return null;
  const span = ([p, q]: readonly [Point, Point]): number => distanceMm(p, q);
  return ends.reduce((most, one) => (span(one) > span(most) ? one : most));
}

/** Where no seams are written: one from each turn point on the line to the next, s1, s2, .., but not along the fold. */
function seamsBetween(
  points: Readonly<Record<string, Point>>,
  outline: Outline | null,
  fold: readonly [Point, Point] | null,
): Facts['seams'] {
  if (outline === null) return [];
  const corners = Object.keys(points).filter((id) => /^c\d+$/.test(id));
  if (corners.length < 2) return [];
  const isFoldEnd = (id: string): boolean =>
    fold?.some((end) => distanceMm(end, points[id]) <= ON_LINE_MM) ?? false;
  return corners.flatMap((from, i) => {
    const to = corners[(i + 1) % corners.length];
    if (isFoldEnd(from) && isFoldEnd(to)) return [];
    const start = lengthToMm(outline, nearestPlace(outline, points[from]));
    const end = lengthToMm(outline, nearestPlace(outline, points[to]));
    const all = lengthToMm(outline, { edge: outline.length - 1, part: 1, point: outline[0], distanceMm: 0 });
    const long = (end - start + all) % all > all / 2;
    return [{ id: `s${i + 1}`, from, to, long }];
  });
}

/** One copy for each time the piece is laid out, or as many as its text asks for. */
function copiesOf(id: string, { laid, quantity }: DxfPiece, notes: string[]): Copy[] {
  const asked = (quantity ?? '').match(/\d+/g)?.map(Number) ?? [];
  const many = (asked[0] ?? 1) + (asked[1] ?? 0);
  if (laid.length > 1 || many <= 1 || many > 100) {
    const each = laid.length === 0 ? [{ mirrored: false }] : laid;
    return each.map(({ mirrored }, i) => ({ id: each.length === 1 ? id : `${id} ${i + 1}`, mirrored }));
  }
  if (asked.length < 2) notes.push(`${many} copies are asked for, not which of them mirrored: none is`);
  return Array.from({ length: many }, (_, i) => ({ id: `${id} ${i + 1}`, mirrored: i >= asked[0] }));
}
