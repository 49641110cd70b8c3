import type { Point } from '../../math/matrix3.js';
import { ALERT, INK } from '../ink.js';
import { strokeText, textWidth } from '../stroke-text.js';
import { element, num, polygon } from '../svg.js';

/** (p, q) goes to (a p + c q + e, b p + d q + f). */
export type Matrix = readonly [number, number, number, number, number, number];

/** A copy ready to be drawn, all in its stripe frame: p across the stripes, q along them, mm. */
export interface DrawnCopy {
  readonly id: string;
  readonly outline: readonly Point[];
  /** Stripes over it, across. */
  readonly bands: readonly DrawnBand[];
  /** Stripes of a check's second direction, along; empty on stripes. */
  readonly cross: readonly DrawnBand[];
  /** Boxes of the printed motifs that lie on it, in the copy's own frame; empty without a print. */
  readonly motifs: readonly DrawnMotif[];
  /** The grain line, from its foot to its head. */
  readonly grain: readonly [Point, Point];
  readonly points: readonly { readonly id: string; readonly at: Point; readonly isWished: boolean }[];
  /** Parts of its seams where the mate shows another colour. */
  readonly unlike: readonly (readonly Point[])[];
  /** Where the photographed cloth lies on it, if it is to be drawn with the cloth's own pixels. */
  readonly clothAt: Matrix | null;
}

export interface DrawnBand {
  readonly fromMm: number;
  readonly toMm: number;
  readonly srgb: string;
}

/** A motif's outer box, drawn as the ellipse that fills it. */
export interface DrawnMotif {
  readonly at: Point;
  readonly halfP: number;
  readonly halfQ: number;
  readonly srgb: string;
}

export interface CopyStyle {
  /** Null: clean bands. */
  readonly tiles: ClothTiles | null;
  /** Named points: all of them, or those that a wish speaks of. */
  readonly points: 'all' | 'wished' | 'none';
  readonly showsUnlike: boolean;
  readonly showsName: boolean;
  /** An arrow along the grain, to its head. */
  readonly showsGrain: boolean;
}

export const throughMatrix = ([a, b, c, d, e, f]: Matrix, [p, q]: Point): Point => [
  a * p + c * q + e,
  b * p + d * q + f,
];

/**
 * One copy on a page. at: stripe frame to page; clip: an id that no other copy of the picture has. Stripes are cut by the outline and
 * drawn in the copy's own frame, so that they stay what they are however the copy is turned.
 */
export function drawCopy(copy: DrawnCopy, at: Matrix, clip: string, style: CopyStyle): string {
  const { tiles } = style;
  const onPage = copy.outline.map((place) => throughMatrix(at, place));
  const cloth =
    copy.clothAt === null || tiles === null
      ? group(at, stripes(copy))
      : polygon(onPage, { fill: '#ffffff' }) + group(at, group(copy.clothAt, clothArea(copy, tiles)));
  const line = polygon(onPage, {
    fill: 'none',
    stroke: INK,
    'stroke-width': 1.2,
    'stroke-linejoin': 'round',
  });
  return `<clipPath id="${clip}">${polygon(onPage, {})}</clipPath><g clip-path="url(#${clip})">${cloth}</g>${line}`;
}

/**
 * What is written over the copies of a drawing, after all of them, so that none hides it: unlike stretches, named points (one name where
 * several copies meet), names of the copies.
 */
export function drawMarks(copies: readonly (readonly [DrawnCopy, Matrix])[], style: CopyStyle): string {
  const named: Point[] = [];
  const isFree = (at: Point): boolean => {
    const free = named.every(([x, y]) => Math.hypot(x - at[0], y - at[1]) > LABEL_GAP_PX);
    if (free) named.push(at);
    return free;
  };
  const unlike = copies.flatMap(([copy, at]) =>
    copy.unlike.map((part) => unlikeMark(part.map((place) => throughMatrix(at, place)))),
  );
  return [
    ...(style.showsUnlike ? unlike : []),
    ...(style.showsGrain ? copies.map(([copy, at]) => grainMark(copy, at)) : []),
    ...copies.map(([copy, at]) => pointMarks(copy, at, style.points, isFree)),
    ...(style.showsName ? copies.map(([copy, at]) => nameOf(copy, at)) : []),
  ].join('');
}

/** Two points nearer than this share a name: where copies meet, and where letters would run into each other. */
const LABEL_GAP_PX = 11;

const group = (matrix: Matrix, body: string): string =>
  `<g transform="matrix(${matrix.map((value) => String(Math.round(value * 1e6) / 1e6)).join(' ')})">${body}</g>`;

function stripes({ outline, bands, cross, motifs }: DrawnCopy): string {
  const ps = outline.map(([p]) => p);
  const qs = outline.map(([, q]) => q);
  const [p0, p1, q0, q1] = [
    Math.min(...ps) - 1,
    Math.max(...ps) + 1,
    Math.min(...qs) - 1,
    Math.max(...qs) + 1,
  ];
  // A hair wider than they are: two edges drawn on one line leave a pale thread between them.
  const hair = 0.02;
  return (
    bands
      .map(({ fromMm, toMm, srgb }) =>
        element('rect', {
          x: fromMm - hair,
          y: q0,
          width: toMm - fromMm + 2 * hair,
          height: q1 - q0,
          fill: srgb,
        }),
      )
      .join('') +
    cross
      .map(({ fromMm, toMm, srgb }) =>
        element('rect', {
          x: p0,
          y: fromMm,
          width: p1 - p0,
          height: toMm - fromMm,
          fill: srgb,
          'fill-opacity': 0.5,
        }),
      )
      .join('') +
    motifs
      .map(({ at: [cx, cy], halfP, halfQ, srgb }) =>
        element('ellipse', { cx, cy, rx: halfP, ry: halfQ, fill: srgb }),
      )
      .join('')
  );
}

/** How the photographed cloth covers the plane: one tile's place (cloth frame) and the steps that carry the cloth to itself. */
export interface ClothTiles {
  readonly fromUMm: number;
  readonly fromVMm: number;
  readonly acrossMm: number;
  readonly dropMm: number;
  /** Null on plain stripes: then tiles are reflected along the stripes. */
  readonly alongMm: number | null;
  readonly heightMm: number;
}

const TILE_HAIR_MM = 0.4;

/** The tile, to be defined once a picture; `body` is its picture in the cloth frame. */
export const defineTile = (tiles: ClothTiles, body: string): string => {
  const { fromUMm, fromVMm, acrossMm, alongMm, heightMm } = tiles;
  // A hair larger than the step, or a pale thread would show where tiles meet.
  const box = element('rect', {
    x: fromUMm - TILE_HAIR_MM,
    y: fromVMm - TILE_HAIR_MM,
    width: acrossMm + 2 * TILE_HAIR_MM,
    height: (alongMm ?? heightMm) + 2 * TILE_HAIR_MM,
  });
  return `<defs><clipPath id="tile-edge">${box}</clipPath><g id="tile" clip-path="url(#tile-edge)">${body}</g></defs>`;
};

/** The tiles that cover a copy, in the cloth frame. */
function clothArea({ outline, clothAt }: DrawnCopy, tiles: ClothTiles): string {
  const [a, , , d, e, f] = clothAt as Matrix;
  // The copy's frame is the cloth's but for signs and a shift.
  const us = outline.map(([p]) => a * (p - e));
  const vs = outline.map(([, q]) => d * (q - f));
  const { fromUMm, fromVMm, acrossMm, dropMm, alongMm, heightMm } = tiles;
  const tall = alongMm ?? heightMm;
  const placed: string[] = [];
  for (
    let i = Math.floor((Math.min(...us) - fromUMm) / acrossMm);
    fromUMm + i * acrossMm < Math.max(...us);
    i++
  ) {
    const low = fromVMm + i * dropMm;
    for (let j = Math.floor((Math.min(...vs) - low) / tall); low + j * tall < Math.max(...vs); j++) {
      const isReflected = alongMm === null && j % 2 !== 0;
      // A tile reflected about its own middle line, so that it meets its neighbours as they are.
      const at: Matrix = isReflected
        ? [1, 0, 0, -1, i * acrossMm, 2 * fromVMm + tall + i * dropMm + j * tall]
        : [1, 0, 0, 1, i * acrossMm, i * dropMm + j * tall];
      placed.push(group(at, '<use href="#tile"/>'));
    }
  }
  return placed.join('');
}

/** A stretch where colours do not meet: a thick line with crossbars at its ends, so that it can be told without its colour. */
function unlikeMark(line: readonly Point[]): string {
  const d = line.map(([x, y], k) => `${k === 0 ? 'M' : 'L'}${num(x)} ${num(y)}`).join('');
  return (
    element('path', { d, fill: 'none', stroke: '#ffffff', 'stroke-width': 5 }) +
    element('path', { d, fill: 'none', stroke: ALERT, 'stroke-width': 3 })
  );
}

/** Half a barb of the grain's arrow, px: along the line and beside it. */
const BARB_PX = [10, 4.5] as const;

/** The grain line with a barb at its head, pale under dark so that it shows on every stripe. */
function grainMark({ grain: [foot, head] }: DrawnCopy, at: Matrix): string {
  const [[x0, y0], [x1, y1]] = [throughMatrix(at, foot), throughMatrix(at, head)];
  const length = Math.hypot(x1 - x0, y1 - y0);
  if (length === 0) return '';
  const [dx, dy] = [(x1 - x0) / length, (y1 - y0) / length];
  const [back, out] = BARB_PX;
  const barb = (side: 1 | -1): string =>
    `${num(x1 - back * dx - side * out * dy)} ${num(y1 - back * dy + side * out * dx)}`;
  const d = `M${num(x0)} ${num(y0)}L${num(x1)} ${num(y1)}M${barb(1)}L${num(x1)} ${num(y1)}L${barb(-1)}`;
  return (
    element('path', { d, fill: 'none', stroke: '#ffffff', 'stroke-width': 3.6, 'stroke-opacity': 0.85 }) +
    element('path', { d, fill: 'none', stroke: INK, 'stroke-width': 1.2 })
  );
}

function pointMarks(
  { points, outline }: DrawnCopy,
  at: Matrix,
  which: CopyStyle['points'],
  isFree: (at: Point) => boolean,
): string {
  const page = outline.map((place) => throughMatrix(at, place));
  const middleX = (Math.min(...page.map(([x]) => x)) + Math.max(...page.map(([x]) => x))) / 2;
  return points
    .filter(({ isWished }) => which === 'all' || (which === 'wished' && isWished))
    .map(({ id, at: place }) => {
      const [x, y] = throughMatrix(at, place);
      const dot = element('circle', {
        cx: x,
        cy: y,
        r: 3,
        fill: '#ffffff',
        stroke: INK,
        'stroke-width': 1.2,
      });
      if (!isFree([x, y])) return dot;
      // Inwards, over the copy itself, on a plate: outwards it would run into the neighbour.
      const isRight = x > middleX;
      const width = textWidth(id, 8) + 6;
      const left = isRight ? x - 7 - width : x + 7;
      return (
        dot +
        element('rect', {
          x: left,
          y: y - 7,
          width,
          height: 14,
          rx: 2,
          fill: '#ffffff',
          'fill-opacity': 0.85,
        }) +
        strokeText(id, left + 3, y + 4, { size: 8 })
      );
    })
    .join('');
}

/** The copy's name on a white plate in its middle, where the stripes would drown it; small enough for the copy. */
function nameOf({ id, outline }: DrawnCopy, at: Matrix): string {
  const page = outline.map((place) => throughMatrix(at, place));
  const [xs, ys] = [page.map(([x]) => x), page.map(([, y]) => y)];
  const x = (Math.min(...xs) + Math.max(...xs)) / 2;
  const y = (Math.min(...ys) + Math.max(...ys)) / 2;
  const room = 0.8 * (Math.max(...xs) - Math.min(...xs));
  const width = Math.min(textWidth(id, 9) + 10, Math.max(room, 24));
  return (
    element('rect', {
      x: x - width / 2,
      y: y - 9,
      width,
      height: 18,
      rx: 3,
      fill: '#ffffff',
      'fill-opacity': 0.88,
    }) + strokeText(id, x, y + 4.5, { size: 9, anchor: 'middle', fitWidth: width - 6 })
  );
}
