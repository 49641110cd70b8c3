import type { Point } from '../../math/matrix3.js';
import { ON_LINE_MM, type Piece } from '../piece/pieces-file.js';
import { nearestPlace } from './along-outline.js';
import { areaMm2, distanceMm, extentOf, type Outline, sideOfLineMm } from './outline.js';
import { contains, offsetOutline } from './polygons.js';
import { selfCrossing } from './self-crossing.js';
import { seamLine } from './whole-piece.js';

/** No piece of a garment is longer: 10 m, in mm. A wrong unit makes pieces ten or twenty-five times too large. */
const LARGEST_MM = 10_000;
/** No piece is smaller, mm2: an outline that went there and back encloses nothing. */
const LEAST_AREA_MM2 = 1;

/** A place as a person would look for it. */
export const placeWords = ([x, y]: Point): string => `(${+x.toFixed(1)}, ${+y.toFixed(1)}) mm`;

/** What is wrong with an outline, or null. `line`: "stitching line" or "cutting line". */
export function outlineFault(outline: Outline, line: string): string | null {
  const bad = outline.findIndex((p) => !p.every(Number.isFinite));
  if (bad >= 0) return `point ${bad + 1} of the ${line} has a coordinate that is no number`;
  if (outline.length < 3)
    return `its ${line} has only ${outline.length} different points, expected 3 or more`;
  const { left, right, bottom, top } = extentOf(outline);
  const longest = Math.max(right - left, top - bottom);
  if (longest > LARGEST_MM) {
    return `its ${line} is ${+(longest / 1000).toPrecision(3)} m long, expected 10 m at most: is the unit right?`;
  }
  const nothing = `its ${line} encloses no area, about ${placeWords(outline[0])}`;
  if (spreadMm2(outline) < LEAST_AREA_MM2) return nothing;
  const crossing = selfCrossing(outline);
  if (crossing !== null) return `its ${line} crosses or touches itself at ${placeWords(crossing)}`;
  return areaMm2(outline) < LEAST_AREA_MM2 ? nothing : null;
}

/** Area that a line there and back has not, nor a point; that of a crossed line counts on both sides of its crossing. */
function spreadMm2(outline: Outline): number {
  const [o] = outline;
  let twice = 0;
  for (let i = 1; i + 1 < outline.length; i++) {
    const [p, q] = [outline[i], outline[i + 1]];
    twice += Math.abs((p[0] - o[0]) * (q[1] - o[1]) - (q[0] - o[0]) * (p[1] - o[1]));
  }
  return twice / 2;
}

/** What is wrong with the lines of a piece whose names have been checked, or null. */
export const shapeFault = (piece: Piece): string | null =>
  outlineFault(piece.stitching, 'stitching line') ??
  (piece.cutting === null ? null : outlineFault(piece.cutting, 'cutting line')) ??
  grainFault(piece) ??
  seamFault(piece) ??
  foldFault(piece) ??
  cuttingFault(piece);

/** What is sewn must be cloth; and a half that is cut short of its fold is no half. */
function cuttingFault({ stitching, cutting }: Piece): string | null {
  if (cutting === null) return null;
  const reach = offsetOutline(cutting, ON_LINE_MM);
  const outside = stitching.find((p) => !contains(reach, p));
  return outside === undefined
    ? null
    : `its stitching line lies outside its cutting line at ${placeWords(outside)}`;
}

function grainFault({ grain, points }: Piece): string | null {
  if (!grain.flat().every(Number.isFinite)) return 'its grain line has a coordinate that is no number';
  if (distanceMm(grain[0], grain[1]) < ON_LINE_MM) {
    return `its grain line has no length, at ${placeWords(grain[0])}`;
  }
  const bad = Object.entries(points).find(([, at]) => !at.every(Number.isFinite));
  return bad === undefined ? null : `its point "${bad[0]}" has a coordinate that is no number`;
}

function seamFault(piece: Piece): string | null {
  for (const { id, from, to } of piece.seams) {
    for (const end of [from, to]) {
      const { distanceMm: away } = nearestPlace(piece.stitching, piece.points[end]);
      if (away > ON_LINE_MM) {
        return `point "${end}" of its seam "${id}" lies ${+away.toFixed(2)} mm off the stitching line at ${placeWords(
          piece.points[end],
        )}, expected ${ON_LINE_MM} mm at most`;
      }
    }
  }
  const { to } = piece.stripes;
  if (to === 'grain') return null;
  const line = seamLine(piece, to);
  return distanceMm(line[0], line[line.length - 1]) < ON_LINE_MM
    ? `stripes cannot follow its seam "${to}", which ends where it starts`
    : null;
}

/** The fold must be straight, and the half must lie on one side of it. */
function foldFault(piece: Piece): string | null {
  if (piece.fold === null) return null;
  const fold = seamLine(piece, piece.fold);
  const [a, b] = [fold[0], fold[fold.length - 1]];
  if (distanceMm(a, b) < 1) return `its fold "${piece.fold}" is shorter than 1 mm from end to end`;
  const bent = fold.find((p) => Math.abs(sideOfLineMm(p, a, b)) > ON_LINE_MM);
  if (bent !== undefined) {
    const away = Math.abs(sideOfLineMm(bent, a, b));
    return `its fold "${piece.fold}" is not straight: ${+away.toFixed(2)} mm off at ${placeWords(
      bent,
    )}, expected ${ON_LINE_MM} mm at most`;
  }
  const sides = piece.stitching.map((p) => sideOfLineMm(p, a, b));
  const [least, most] = [Math.min(...sides), Math.max(...sides)];
  if (least > -ON_LINE_MM || most < ON_LINE_MM) return null;
  const over = piece.stitching[sides.indexOf(-least < most ? least : most)];
  return `it lies on both sides of its fold "${piece.fold}", at ${placeWords(over)}`;
}
