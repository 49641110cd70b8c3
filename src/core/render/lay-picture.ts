import type { ClothPattern } from '../model/cloth-pattern.js';
import { clothFromGarment, type HalfOnCloth } from '../model/half-on-cloth.js';
import type { SeamMatch } from '../seam/seam-match.js';
import { stripedShape } from './half-stripes.js';
import { INK } from './ink.js';
import { haloLine, plate } from './seam-marks.js';
import { element, num, polygon } from './svg.js';

/** A drawing of a stated size whose top left corner is (0, 0). */
export interface Drawing {
  readonly width: number;
  readonly height: number;
  readonly svg: string;
}

type Corner = readonly [number, number];

/** Garment mm that a half of the drawing reaches out from its seam, as a part of the seam. */
const REACH = 0.36;

/**
 * The two halves lying on the cloth, stripes upright as in the photo: what to do at the cutting table. The
 * seam's edge of each half is drawn heavy, an arrow points to its top, and a half cut from the wrong side
 * is hatched. width: of the drawing, in its own unit; grain: measure of its lettering.
 */
export function layPicture(match: SeamMatch, width: number, grain: number): Drawing {
  const { pattern, request } = match;
  const reach = REACH * request.seamMm;
  const left = outline(match.left, -reach, request.seamMm);
  const right = outline(match.right, reach, request.seamMm);
  const gap = 0.06 * request.seamMm;
  // Beside the left half, further on by whole repeats, so that it reads the bands it must.
  const turns = Math.ceil((maxU(left) + gap - minU(right)) / pattern.repeatMm);
  const moved = shifted(right, turns * pattern.repeatMm, middleV(left) - middleV(right));
  const from = minU(left) - gap;
  const to = maxU(moved) + gap;
  const high = Math.max(maxV(left), maxV(moved)) + gap;
  const low = Math.min(minV(left), minV(moved)) - gap;
  const scale = width / (to - from);
  const place = (u: number, v: number): [number, number] => [(u - from) * scale, (high - v) * scale];
  const onCloth: HalfOnCloth = { uMm: 0, uPerX: 1, uPerY: 0, vMm: 0, vPerX: 0, vPerY: 1 };
  const cloth: Corner[] = [
    [from, low],
    [to, low],
    [to, high],
    [from, high],
  ];
  const height = (high - low) * scale;
  const svg = [
    stripedShape(pattern, onCloth, cloth, place, match.cross),
    element('rect', { x: 0, y: 0, width, height, fill: '#ffffff', 'fill-opacity': 0.62 }),
    piece(pattern, onCloth, left, place, grain, 'left half', false),
    piece(pattern, onCloth, moved, place, grain, 'right half', request.lay === 'wrong-side'),
    element('rect', { x: 0, y: 0, width, height, fill: 'none', stroke: INK, 'stroke-width': 0.12 * grain }),
  ].join('');
  return { width, height, svg };
}

/** Corners of a half on the cloth: seam top, seam foot, outer foot, outer top. */
const outline = (half: HalfOnCloth, reach: number, seamMm: number): Corner[] =>
  [
    [0, 0],
    [0, seamMm],
    [reach, seamMm],
    [reach, 0],
  ].map(([x, y]) => clothFromGarment(half, x, y));

function piece(
  pattern: ClothPattern,
  onCloth: HalfOnCloth,
  corners: readonly Corner[],
  place: (u: number, v: number) => [number, number],
  grain: number,
  name: string,
  wrongSide: boolean,
): string {
  const drawn = corners.map(([u, v]) => place(u, v));
  return stripedShape(pattern, onCloth, corners, place) + pieceMarks(drawn, grain, name, wrongSide);
}

/**
 * What is drawn over a half: its outline, the seam's edge heavy, an arrow to its top, its name, hatching where its wrong side shows.
 * drawn: seam top, seam foot, outer foot, outer top, in the picture.
 */
export function pieceMarks(
  drawn: readonly Corner[],
  grain: number,
  name: string,
  wrongSide: boolean,
): string {
  const [seamTop, seamFoot, outerFoot, outerTop] = drawn;
  const mid = (a: Corner, b: Corner): Corner => [(a[0] + b[0]) / 2, (a[1] + b[1]) / 2];
  const top = mid(seamTop, outerTop);
  const foot = mid(seamFoot, outerFoot);
  const line = (a: Corner, b: Corner): string => `M${num(a[0])} ${num(a[1])}L${num(b[0])} ${num(b[1])}`;
  const at = (t: number): Corner => [foot[0] + t * (top[0] - foot[0]), foot[1] + t * (top[1] - foot[1])];
  const length = Math.hypot(top[0] - foot[0], top[1] - foot[1]);
  const [ux, uy] = [(top[0] - foot[0]) / length, (top[1] - foot[1]) / length];
  const tip = at(0.93);
  const barb = 1.9 * grain;
  const head = [1, -1]
    .map((side) =>
      line(tip, [tip[0] - barb * (ux - 0.6 * side * uy), tip[1] - barb * (uy + 0.6 * side * ux)]),
    )
    .join('');
  const centre = at(0.5);
  let svg = wrongSide ? hatching(drawn, grain) : '';
  svg += polygon(drawn, { fill: 'none', stroke: INK, 'stroke-width': 0.25 * grain });
  svg += haloLine(line(seamTop, seamFoot), 0.7 * grain, INK);
  svg += haloLine(line(at(0.62), tip) + head, 0.35 * grain, INK);
  svg += plate(name, centre[0], centre[1], 1.9 * grain);
  if (wrongSide) svg += plate('wrong side', centre[0], centre[1] + 4.6 * grain, 1.9 * grain);
  const [tx, ty] = at(0.78);
  svg += plate('top', tx - uy * 3.6 * grain, ty + ux * 3.6 * grain, 1.6 * grain);
  return svg;
}

/** Slanting lines over a convex outline. */
function hatching(corners: readonly Corner[], grain: number): string {
  const sums = corners.map(([x, y]) => x + y);
  let d = '';
  for (let c = Math.min(...sums); c < Math.max(...sums); c += 1.6 * grain) {
    const cuts: Corner[] = [];
    corners.forEach((a, i) => {
      const b = corners[(i + 1) % corners.length];
      const [fa, fb] = [a[0] + a[1] - c, b[0] + b[1] - c];
      if (fa >= 0 !== fb >= 0) {
        const t = fa / (fa - fb);
        cuts.push([a[0] + t * (b[0] - a[0]), a[1] + t * (b[1] - a[1])]);
      }
    });
    if (cuts.length === 2)
      d += `M${num(cuts[0][0])} ${num(cuts[0][1])}L${num(cuts[1][0])} ${num(cuts[1][1])}`;
  }
  return (
    element('path', { d, stroke: '#ffffff', 'stroke-width': 0.5 * grain, 'stroke-opacity': 0.8 }) +
    element('path', { d, stroke: INK, 'stroke-width': 0.14 * grain })
  );
}

const shifted = (corners: readonly Corner[], du: number, dv: number): Corner[] =>
  corners.map(([u, v]) => [u + du, v + dv]);
const minU = (corners: readonly Corner[]): number => Math.min(...corners.map(([u]) => u));
const maxU = (corners: readonly Corner[]): number => Math.max(...corners.map(([u]) => u));
const minV = (corners: readonly Corner[]): number => Math.min(...corners.map(([, v]) => v));
const maxV = (corners: readonly Corner[]): number => Math.max(...corners.map(([, v]) => v));
const middleV = (corners: readonly Corner[]): number => (minV(corners) + maxV(corners)) / 2;
