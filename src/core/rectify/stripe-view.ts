import { halfTurn } from '../math/wrap.js';
import { fillPolygon, grownPolygon } from '../raster/fill-polygon.js';
import { blockDirections } from './block-directions.js';
import {
  fitGivenStripes,
  fitStripeFrame,
  fitStripeFrameNear,
  possibleDirections,
  type StripeDirection,
} from './fit-stripe-frame.js';
import { followStripes } from './follow-stripes.js';
import { type GradientField, gradientField } from './gradient-field.js';
import { longerRows } from './longer-rows.js';
import { narrowestColumns } from './narrow-bands.js';
import { type PictureLevels, SMALL_SIDE, smallerCopies } from './picture-levels.js';
import { type Straightened, straighten } from './straighten.js';
import { type StripeFrame, straightFromPicture, turnedRound } from './stripe-frame.js';
import { unbrokenShare } from './unbroken-edges.js';
import { unlikeShare } from './unlike-share.js';

export interface StripeView extends StripeDirection {
  readonly straight: Straightened;
  /** Along the second direction of a check; null with `secondAngle`. */
  readonly second: StripeView | null;
  /** A direction about square to the stripes whose edges run on as far as theirs, though neither runs unbroken, radians; or null. */
  readonly rivalAngle: number | null;
}

/** Photo px per column and row of the straight picture: stripes are sharp across, and change little along. */
const PX_PER_COLUMN = 2;
const PX_PER_ROW = 8;
const PX_PER_COARSE_ROW = 64;
/** So many rows of the straight picture are one where bands are judged for their narrowness: some tens of rows, with little noise, tell it. */
const ROWS_TOGETHER = 8;
/** Lines of the picture that are taken together in a row at most. */
const LINES = 4;
const COARSE_LINES = 1;
/** Bands of fewer columns than this are mostly blur at their two edges: they are looked at in full resolution. */
const NARROW_COLUMNS = 7;
const PX_PER_FINE_COLUMN = 1;

/** A direction with this contrast needs no second look. */
const CLEAR = 30;
/** Edges this near a direction are of it, radians. */
const SECOND_GATE = 0.2;

/**
 * Direction and straight picture of the stripes, or null when nothing in the picture has a direction. `givenAngle`: the direction as
 * a person gives it, radians; else it is found.
 */
export function viewStripes(
  levels: PictureLevels,
  pxPerMm: number,
  givenAngle: number | null = null,
): StripeView | null {
  const found = clearestDirection(levels, givenAngle);
  if (found === null) return null;
  const first = {
    ...found,
    secondAngle: null,
    second: null,
    rivalAngle: null,
    ...straightenAlong(levels, found.frame, pxPerMm),
  };
  if (found.secondAngle === null) return first;
  const { look: second, share } = secondLook(levels, found.secondAngle, first.frame, pxPerMm);
  const other = share ?? 0;
  if (other <= HALF_BROKEN) return first;
  const own = unbrokenShare(first.straight.cloth) ?? 0;
  const view: StripeView = {
    secondAngle: null,
    second: null,
    rivalAngle: null,
    contrast: 0,
    frame: second.frame,
    straight: second.straight,
  };
  if (other < UNBROKEN) {
    const isRival = own < UNBROKEN && other > own - AS_FAR && givenAngle === null;
    if (!isRival) return first;
    // Both break off: the stripes are what leaves less of the cloth unexplained.
    const [left, otherLeft] = [first, second].map(({ straight }) => unlikeShare(straight.cloth));
    if (otherLeft < CLEARLY_LESS * left) return { ...view, contrast: found.contrast };
    return left < CLEARLY_LESS * otherLeft ? first : { ...first, rivalAngle: second.frame.angle };
  }
  if (own >= UNBROKEN) return { ...first, secondAngle: found.secondAngle, second: view };
  // What seemed the stripes are motifs in rows across them.
  return givenAngle === null ? { ...view, contrast: found.contrast } : first;
}

/** A second direction, looked at, and what part of its edges runs on; null where it has none. */
interface SecondLook {
  readonly look: StraightLook;
  readonly share: number | null;
}

/**
 * The second direction as its own edges have it, and where they break off, square to the first: the diagonals of a twill that lie to one
 * side of the threads pull the mean direction of edges off, some degrees, but warp and weft lie square to each other.
 */
function secondLook(levels: PictureLevels, angle: number, first: StripeFrame, pxPerMm: number): SecondLook {
  const level = { ...first, angle: first.angle + Math.PI / 2, converge: 0, bow: 0, lens: 0 };
  const square = lookFor(levels, level, pxPerMm);
  if ((square.share ?? 0) >= UNBROKEN) return square;
  const own = lookFor(levels, secondFrame(levels, angle, first), pxPerMm);
  return (square.share ?? 0) > (own.share ?? 0) ? square : own;
}

function lookFor(levels: PictureLevels, frame: StripeFrame, pxPerMm: number): SecondLook {
  const look = lookAlong(levels, frame, pxPerMm);
  const share = unbrokenShare(look.straight.cloth);
  // Most second directions are rows of motifs and break off: that shows at half the size. What may run on, or has edges too near each other to
  // be told apart there, is looked at as finely as its bands ask.
  if (!look.isNarrow || (share !== null && share <= HALF_BROKEN)) return { look, share };
  const fine = inFullSize(levels, look, pxPerMm);
  return { look: fine, share: unbrokenShare(fine.straight.cloth) };
}

/** Woven bands run on; a row of motifs that fills less than this of the width does not. */
const UNBROKEN = 0.88;
/** Rows of motifs with as much between them as in them are no stripes; two directions run as far as each other within so much. */
const HALF_BROKEN = 0.5;
const AS_FAR = 0.15;
/** What one of two directions leaves unexplained, as a part of what the other does, for it to be the stripes'. */
const CLEARLY_LESS = 0.75;

/**
 * The direction as the small copy shows it; where weave and noise nearly drown the edges of faint stripes, as smaller copies do:
 * halving averages noise away and leaves the edge of a wide band as high as it was.
 */
function clearestDirection(levels: PictureLevels, givenAngle: number | null): StripeDirection | null {
  return directionAt(levels, givenAngle, 1) ?? directionAt(levels, givenAngle, FAINT_GAIN);
}

/** Bands of dark cloth, or of nearly one colour, may differ by a few levels: where nothing shows a direction, slopes count so many times. */
const FAINT_GAIN = 4;

function directionAt(levels: PictureLevels, givenAngle: number | null, gain: number): StripeDirection | null {
  const directionIn = (field: GradientField): StripeDirection | null =>
    givenAngle === null ? fitStripeFrame(field) : fitGivenStripes(field, givenAngle);
  let clearest: StripeDirection | null = null;
  for (const { picture, hidden, shrink, field } of smallerCopies(levels)) {
    const found = directionIn(gain === 1 ? field() : gradientField(picture, hidden, gain));
    if (found && found.contrast > (clearest?.contrast ?? 0)) {
      clearest = { ...found, frame: enlarged(found.frame, shrink) };
    }
    if ((clearest?.contrast ?? 0) > CLEAR) break;
  }
  // A small picture, or a small region of one, shows too few places in less than its own size.
  const { full } = levels;
  return clearest === null && Math.max(full.width, full.height) <= SMALL_SIDE
    ? directionIn(gradientField(full, hiddenInFull(levels), gain))
    : clearest;
}

/** Directions this near each other are one, radians. */
const ONE_DIRECTION = 0.17;

/** Directions in which stripes may run where none stands out, or another was found: the likeliest first, of all copies of the picture. */
export function rivalDirections(levels: PictureLevels, found: number | null): number[] {
  const all: { angle: number; contrast: number }[] = [];
  for (const { field } of smallerCopies(levels)) all.push(...possibleDirections(field()));
  const kept: number[] = [];
  for (const { angle } of all.sort((p, q) => q.contrast - p.contrast)) {
    const known = found === null ? kept : [found, ...kept];
    if (known.every((other) => Math.abs(halfTurn(angle - other)) > ONE_DIRECTION)) kept.push(angle);
  }
  return kept;
}

/** Cells along either side of the picture in which a direction is looked for. */
const CELLS = 6;

/** In what part of the picture in view, of so many cells, some edge runs in a direction, 0..1. */
export function spreadOfDirection({ small }: PictureLevels, angle: number): number {
  const { hidden } = small;
  const { width, height } = small.picture;
  const cellOf = (x: number, y: number): number =>
    Math.min(CELLS - 1, Math.floor((CELLS * y) / height)) * CELLS +
    Math.min(CELLS - 1, Math.floor((CELLS * x) / width));
  const shown = new Uint8Array(CELLS * CELLS);
  for (const { x, y } of blockDirections(small.field(), () => angle, SECOND_GATE)) {
    shown[cellOf(x, y)] = 1;
  }
  const open = new Uint32Array(CELLS * CELLS);
  for (let i = 0; i < hidden.length; i++) {
    if (!hidden[i]) open[cellOf(i % width, Math.floor(i / width))]++;
  }
  const enough = hidden.length / (2 * CELLS * CELLS);
  const cells = Array.from(open.keys()).filter((cell) => open[cell] > enough);
  return cells.filter((cell) => shown[cell]).length / Math.max(1, cells.length);
}

/** Frame of the second direction of a check, seen from the side from which it runs across along the `first` stripes. */
function secondFrame(levels: PictureLevels, angle: number, first: StripeFrame): StripeFrame {
  const { small } = levels;
  const found = fitStripeFrameNear(small.field(), angle);
  // Where few places show it, as thin lines do, the stripes themselves are followed from its direction alone.
  const own = found ? enlarged(found, small.shrink) : { ...first, angle, converge: 0, bow: 0, lens: 0 };
  return Math.sin(own.angle - first.angle) < 0 ? turnedRound(own) : own;
}

/** A straight picture along the frame as the stripes themselves put it right. */
interface StraightLook {
  readonly frame: StripeFrame;
  readonly straight: Straightened;
  /** Bands have so few columns that they must be looked at in full size. */
  readonly isNarrow: boolean;
}

/** At half the picture's size. */
function lookAlong(levels: PictureLevels, found: StripeFrame, pxPerMm: number): StraightLook {
  const frame = followed(levels, found, pxPerMm);
  const straight = straightFromHalf(levels, frame, pxPerMm, PX_PER_ROW, LINES);
  const isNarrow = narrowestColumns(longerRows(straight.cloth, ROWS_TOGETHER)) < NARROW_COLUMNS;
  return { frame, isNarrow, straight };
}

/** As finely as the bands ask. */
function straightenAlong(
  levels: PictureLevels,
  found: StripeFrame,
  pxPerMm: number,
): { frame: StripeFrame; straight: Straightened } {
  const { frame, isNarrow, straight } = lookAlong(levels, found, pxPerMm);
  return { frame, straight: isNarrow ? straightFromFull(levels, frame, pxPerMm) : straight };
}

const inFullSize = (levels: PictureLevels, { frame }: StraightLook, pxPerMm: number): StraightLook => ({
  frame,
  isNarrow: false,
  straight: straightFromFull(levels, frame, pxPerMm),
});

/** A few lines tell how the stripes still lean. */
const followed = (levels: PictureLevels, found: StripeFrame, pxPerMm: number): StripeFrame =>
  followStripes(found, (frame) => straightFromHalf(levels, frame, pxPerMm, PX_PER_COARSE_ROW, COARSE_LINES));

const straightFromHalf = (
  { half, hiddenHalf }: PictureLevels,
  frame: StripeFrame,
  pxPerMm: number,
  rowPx: number,
  lines: number,
): Straightened => straighten(half, 2, hiddenHalf, frame, pxPerMm, PX_PER_COLUMN, rowPx, lines);

const straightFromFull = (levels: PictureLevels, frame: StripeFrame, pxPerMm: number): Straightened =>
  straighten(levels.full, 1, hiddenInFull(levels), frame, pxPerMm, PX_PER_FINE_COLUMN, PX_PER_ROW);

/** The straight picture with more taken for no cloth: polygons in picture px, grown by `marginPx`. */
export function straightHiding(
  { frame, straight }: Pick<StripeView, 'frame' | 'straight'>,
  polygons: readonly (readonly (readonly [number, number])[])[],
  marginPx: number,
): Straightened {
  const { width, height } = straight.cloth.picture;
  const hidden = new Uint8Array(width * height);
  for (const polygon of polygons) {
    const corners = grownPolygon(polygon, marginPx).map(([x, y]): [number, number] => {
      const [u, v] = straightFromPicture(frame, x, y);
      return [(u - straight.uFromPx) / straight.pxPerColumn, (straight.vFromPx - v) / straight.pxPerRow];
    });
    fillPolygon(hidden, width, height, corners, 1);
  }
  const cloth = straight.cloth.cloth.map((seen, i) => (hidden[i] ? 0 : seen));
  return { ...straight, cloth: { ...straight.cloth, cloth } };
}

/** Marks of the half-size copy, one for each px of the picture. */
export function hiddenInFull({ full, half, hiddenHalf }: PictureLevels): Uint8Array {
  const out = new Uint8Array(full.width * full.height);
  for (let y = 0; y < full.height; y++) {
    const row = Math.min(half.height - 1, y >> 1) * half.width;
    for (let x = 0; x < full.width; x++)
      out[y * full.width + x] = hiddenHalf[row + Math.min(half.width - 1, x >> 1)];
  }
  return out;
}

function enlarged(frame: StripeFrame, by: number): StripeFrame {
  return {
    centreX: frame.centreX * by,
    centreY: frame.centreY * by,
    angle: frame.angle,
    converge: frame.converge / by,
    bow: frame.bow / by,
    lens: frame.lens / (by * by),
  };
}
