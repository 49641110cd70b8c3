import { formatTapeLength, type LengthUnit } from '../../base/length.js';
import type { Point } from '../../math/matrix3.js';
import type { PieceView, SeamView } from '../../pieces/view/piece-view.js';
import { ALERT, INK, SOFT } from '../ink.js';
import { strokeText } from '../stroke-text.js';
import { element, num } from '../svg.js';
import type { FreePlaces, TextPlace } from './free-places.js';

/** How a piece lies on the page: mm of the page, y down. */
export interface DrawnAt {
  readonly originX: number;
  readonly originY: number;
  /** Page mm for a mm of the piece. */
  readonly scale: number;
}

const SEAM_TEXT = 2.1;
const POINT_TEXT = 1.5;
const GRAIN = '#0b6b3a';
const STRIPE = '#c9c2a5';
const SEAM = '#1f4e9c';

export interface DrawnPieceMarks {
  readonly svg: string;
  /** Seams, with their lengths, and points for whose words there was no room in the drawing. */
  readonly seamsLeft: readonly string[];
  readonly pointsLeft: readonly string[];
}

/** Everything of one piece but its words underneath. `id`: for what its parts refer to within the page. */
export function pieceDrawing(
  view: PieceView,
  at: DrawnAt,
  id: string,
  unit: LengthUnit,
  free: FreePlaces,
): DrawnPieceMarks {
  const page = (p: Point): Point => [at.originX + at.scale * p[0], at.originY - at.scale * p[1]];
  const path = (line: readonly Point[], closed: boolean): string =>
    `M${line.map((p) => page(p).map(num).join(' ')).join('L')}${closed ? 'Z' : ''}`;
  const { piece } = view;
  for (const line of [piece.stitching, view.cutting]) keepClear(line.map(page), free);
  const parts = [
    element('path', { d: path(view.cutting, true), fill: '#fffdf6' }),
    stripes(view, path, page, id),
    view.otherHalf === null
      ? ''
      : element('path', {
          d: path(view.otherHalf, true),
          fill: 'none',
          stroke: SOFT,
          'stroke-width': 0.18,
          'stroke-dasharray': '0.6 0.9',
        }),
    element('path', {
      d: path(view.cutting, true),
      fill: 'none',
      stroke: INK,
      'stroke-width': 0.45,
      'stroke-linejoin': 'round',
    }),
    element('path', {
      d: path(piece.stitching, true),
      fill: 'none',
      stroke: INK,
      'stroke-width': 0.25,
      'stroke-dasharray': '1.5 0.8',
    }),
    ...view.seams.map((seam) =>
      element('path', {
        d: path(seam.line, false),
        fill: 'none',
        stroke: seam.isFold ? ALERT : SEAM,
        'stroke-width': seam.isFold ? 0.7 : 0.55,
        'stroke-opacity': 0.55,
        'stroke-dasharray': seam.isFold ? '3 0.8 0.8 0.8' : undefined,
      }),
    ),
    ...view.seams.map((seam) => seamEnd(seam, page)),
    grainArrow(piece.grain.map(page) as [Point, Point], free),
    ...Object.entries(piece.points).map(([name, place]) =>
      piece.notches?.includes(name) ? notchMark(view, place, page) : ring(page(place)),
    ),
  ];
  const seams = view.seams.map((seam) => ({ seam, svg: seamWords(seam, page, unit, free) }));
  const points = Object.entries(piece.points).map(([name, place]) => ({
    name,
    svg: pointWords(name, page(place), free),
  }));
  return {
    svg: [...parts, ...[...seams, ...points].map((one) => one.svg ?? '')].join(''),
    seamsLeft: seams.flatMap(({ seam, svg }) => (svg === null ? [seamName(seam, unit)] : [])),
    pointsLeft: points.flatMap(({ name, svg }) => (svg === null ? [name] : [])),
  };
}

const seamName = (seam: SeamView, unit: LengthUnit): string =>
  `${seam.isFold ? 'fold: ' : ''}${seam.id} ${formatTapeLength(seam.lengthMm, unit)}`;

/** No word may be written across a line. */
function keepClear(outline: readonly Point[], free: FreePlaces): void {
  outline.forEach((p, i) => {
    const q = outline[(i + 1) % outline.length];
    const steps = Math.ceil(Math.hypot(q[0] - p[0], q[1] - p[1]));
    for (let k = 0; k < steps; k++) {
      const [x, y] = [p[0] + (k / steps) * (q[0] - p[0]), p[1] + (k / steps) * (q[1] - p[1])];
      free.take({ left: x - 0.1, right: x + 0.1, top: y - 0.1, bottom: y + 0.1 });
    }
  });
}

/** Parallel lines as the stripes shall run, within the stitching line, so far apart on the page that they read as a texture. */
function stripes(
  view: PieceView,
  path: (line: readonly Point[], closed: boolean) => string,
  page: (p: Point) => Point,
  id: string,
): string {
  const turn = (-view.stripesDeg * Math.PI) / 180;
  const [dx, dy] = [Math.cos(turn), Math.sin(turn)];
  const places = view.piece.stitching.map(page);
  const across = places.map(([x, y]) => -x * dy + y * dx);
  const along = places.map(([x, y]) => x * dx + y * dy);
  const [low, high] = [Math.min(...along), Math.max(...along)];
  let d = '';
  const step = 3.5;
  for (let v = Math.ceil(Math.min(...across) / step) * step; v < Math.max(...across); v += step) {
    d += `M${num(low * dx - v * dy)} ${num(low * dy + v * dx)}L${num(high * dx - v * dy)} ${num(high * dy + v * dx)}`;
  }
  const clip = element(
    'clipPath',
    { id: `${id}-clip` },
    element('path', { d: path(view.piece.stitching, true) }),
  );
  return d === ''
    ? ''
    : clip +
        element('path', {
          d,
          fill: 'none',
          stroke: STRIPE,
          'stroke-width': 0.9,
          'clip-path': `url(#${id}-clip)`,
        });
}

function grainArrow([foot, head]: readonly [Point, Point], free: FreePlaces): string {
  const length = Math.hypot(head[0] - foot[0], head[1] - foot[1]);
  const [dx, dy] = [(head[0] - foot[0]) / length, (head[1] - foot[1]) / length];
  const size = Math.min(2.6, length / 2);
  const base: Point = [head[0] - size * dx, head[1] - size * dy];
  const wing = (side: number): string =>
    `${num(base[0] - side * 0.34 * size * dy)} ${num(base[1] + side * 0.34 * size * dx)}`;
  const middle: Point = [(foot[0] + head[0]) / 2, (foot[1] + head[1]) / 2];
  for (const part of [0.1, 0.3, 0.5, 0.7, 0.9]) {
    const p = [foot[0] + part * length * dx, foot[1] + part * length * dy];
    free.take({ left: p[0] - 0.8, right: p[0] + 0.8, top: p[1] - 0.8, bottom: p[1] + 0.8 });
  }
  const place = free.firstFree('grain', SEAM_TEXT, [
    { x: middle[0] + 1.8, y: middle[1] + SEAM_TEXT / 2, anchor: 'start' },
    { x: middle[0] - 1.8, y: middle[1] + SEAM_TEXT / 2, anchor: 'end' },
    { x: middle[0], y: middle[1] - 1.8, anchor: 'middle' },
    { x: middle[0], y: middle[1] + 4, anchor: 'middle' },
  ]);
  return (
    element('path', {
      d: `M${foot.map(num).join(' ')}L${base.map(num).join(' ')}`,
      stroke: GRAIN,
      'stroke-width': 0.45,
      fill: 'none',
    }) +
    element('path', { d: `M${head.map(num).join(' ')}L${wing(1)}L${wing(-1)}Z`, fill: GRAIN }) +
    (place === null ? '' : written('grain', place, SEAM_TEXT, GRAIN))
  );
}

const ring = ([x, y]: Point): string =>
  element('circle', { cx: x, cy: y, r: 0.6, fill: '#ffffff', stroke: INK, 'stroke-width': 0.25 });

/** A small triangle where a seam starts, pointing along it: seams are sewn start to start. */
function seamEnd({ line }: SeamView, page: (p: Point) => Point): string {
  const [p, q] = [page(line[0]), page(line[1])];
  const length = Math.hypot(q[0] - p[0], q[1] - p[1]);
  const [dx, dy] = [(q[0] - p[0]) / length, (q[1] - p[1]) / length];
  const at = (ahead: number, aside: number): string =>
    `${num(p[0] + ahead * dx - aside * dy)} ${num(p[1] + ahead * dy + aside * dx)}`;
  return element('path', { d: `M${at(0.9, -0.55)}L${at(2.2, 0)}L${at(0.9, 0.55)}Z`, fill: SEAM });
}

/** A stroke square to the line at a notch. */
function notchMark(view: PieceView, place: Point, page: (p: Point) => Point): string {
  const outline = view.piece.stitching;
  let [best, side]: [number, Point] = [Infinity, [0, 1]];
  outline.forEach((a, i) => {
    const b = outline[(i + 1) % outline.length];
    const length = Math.hypot(b[0] - a[0], b[1] - a[1]);
    const t = Math.min(
      1,
      Math.max(
        0,
        ((place[0] - a[0]) * (b[0] - a[0]) + (place[1] - a[1]) * (b[1] - a[1])) / (length * length),
      ),
    );
    const away = Math.hypot(a[0] + t * (b[0] - a[0]) - place[0], a[1] + t * (b[1] - a[1]) - place[1]);
    if (away < best) [best, side] = [away, [-(b[1] - a[1]) / length, (b[0] - a[0]) / length]];
  });
  const [x, y] = page(place);
  const d = `M${num(x - 1.4 * side[0])} ${num(y + 1.4 * side[1])}L${num(x + 1.4 * side[0])} ${num(y - 1.4 * side[1])}`;
  return element('path', { d, stroke: INK, 'stroke-width': 0.6, fill: 'none' });
}

/** Name and length beside the middle of a seam, or as near to it as there is room, with a hair line to it then. */
function seamWords(
  seam: SeamView,
  page: (p: Point) => Point,
  unit: LengthUnit,
  free: FreePlaces,
): string | null {
  const words = seamName(seam, unit);
  const line = seam.line.map(page);
  const places: (TextPlace & { readonly from: Point; readonly away: number })[] = [];
  for (const away of [1.4, 2, 3.5, 6, 9, 13, 18]) {
    for (const part of [0.5, 0.35, 0.65, 0.2, 0.8]) {
      const { p, aside } = placeOn(line, part);
      for (const side of [1, -1]) {
        const [nx, ny] = [side * aside[0], side * aside[1]];
        const anchor = nx > 0.4 ? 'start' : nx < -0.4 ? 'end' : 'middle';
        places.push({
          x: p[0] + away * nx,
          y: p[1] + away * ny + ((1 + ny) / 2) * SEAM_TEXT,
          anchor,
          from: p,
          away,
        });
      }
    }
  }
  const place = free.firstFree(words, SEAM_TEXT, places) as (typeof places)[number] | null;
  if (place === null) return null;
  const hair =
    place.away > 3
      ? element('path', {
          d: `M${place.from.map(num).join(' ')}L${num(place.x)} ${num(place.y - SEAM_TEXT / 2)}`,
          stroke: SEAM,
          'stroke-width': 0.15,
          fill: 'none',
        })
      : '';
  return hair + written(words, place, SEAM_TEXT, seam.isFold ? ALERT : SEAM);
}

function placeOn(line: readonly Point[], part: number): { readonly p: Point; readonly aside: Point } {
  const steps = line.slice(1).map((q, i) => Math.hypot(q[0] - line[i][0], q[1] - line[i][1]));
  let left = part * steps.reduce((sum, step) => sum + step, 0);
  const i = steps.findIndex((step) => {
    if (step >= left && step > 0) return true;
    left -= step;
    return false;
  });
  const k = i < 0 ? steps.length - 1 : i;
  const [a, b] = [line[k], line[k + 1]];
  const t = i < 0 ? 1 : left / steps[k];
  return {
    p: [a[0] + t * (b[0] - a[0]), a[1] + t * (b[1] - a[1])],
    aside: [(b[1] - a[1]) / steps[k], -(b[0] - a[0]) / steps[k]],
  };
}

/** A point's name close to it, left out where there is no room: seams come first. */
function pointWords(name: string, [x, y]: Point, free: FreePlaces): string | null {
  const places = [1.1, 2.6, 4.5, 6.5].flatMap((r): (TextPlace & { readonly r: number })[] => [
    { x: x + r, y: y - 0.4 * r, anchor: 'start', r },
    { x: x - r, y: y - 0.4 * r, anchor: 'end', r },
    { x: x + r, y: y + POINT_TEXT + 0.4 * r, anchor: 'start', r },
    { x: x - r, y: y + POINT_TEXT + 0.4 * r, anchor: 'end', r },
    { x, y: y - r, anchor: 'middle', r },
    { x, y: y + POINT_TEXT + r, anchor: 'middle', r },
  ]);
  const place = free.firstFree(name, POINT_TEXT, places) as (typeof places)[number] | null;
  if (place === null) return null;
  const hair =
    place.r > 3
      ? element('path', {
          d: `M${num(x)} ${num(y)}L${num(place.x)} ${num(place.y - POINT_TEXT / 2)}`,
          stroke: INK,
          'stroke-width': 0.12,
          fill: 'none',
        })
      : '';
  return hair + written(name, place, POINT_TEXT, INK);
}

/** On a white edge of its own, so that it reads over lines. */
const written = (words: string, { x, y, anchor }: TextPlace, size: number, colour: string): string =>
  strokeText(words, x, y, { size, anchor, colour: '#fffdf6', weight: 0.5 }) +
  strokeText(words, x, y, { size, anchor, colour, weight: 0.12 });
