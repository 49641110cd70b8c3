import { fillPolygon, grownPolygon } from '../raster/fill-polygon.js';
import { halve } from '../raster/halve.js';
import type { Raster } from '../raster/raster.js';
import { blockDirections } from './block-directions.js';
import { fitStripeFrame, fitStripeFrameNear, type StripeDirection } from './fit-stripe-frame.js';
import { type Straightened, straighten } from './straighten.js';
import type { StripeFrame } from './stripe-frame.js';

/** Shrunk copies of the picture with what hides the cloth marked on each. */
export interface PictureLevels {
  readonly full: Raster<Uint8Array>;
  readonly half: Raster<Uint8Array>;
  /** 1 = not cloth, size of `half`. */
  readonly hiddenHalf: Uint8Array;
  /** Small copy for directions, and its shrink factor. */
  readonly small: Raster<Uint8Array>;
  readonly smallShrink: number;
  readonly hiddenSmall: Uint8Array;
}

/** Longest side of the copy on which directions are taken: blocks of 24 px then see a few hundred places. */
const SMALL_SIDE = 1400;

/** `outline`: polygon of the ruler or sheet in picture px, or null; grown by `marginPx` for its shadow. */
export function pictureLevels(
  picture: Raster<Uint8Array>,
  outline: readonly (readonly [number, number])[] | null,
  marginPx: number,
): PictureLevels {
  const half = halve(picture);
  let small = half;
  let smallShrink = 2;
  while (Math.max(small.width, small.height) > SMALL_SIDE) {
    small = halve(small);
    smallShrink *= 2;
  }
  const hide = ({ width, height }: Raster, shrink: number): Uint8Array => {
    const hidden = new Uint8Array(width * height);
    if (outline) {
      const grown = grownPolygon(outline, marginPx).map(([x, y]): [number, number] => [
        x / shrink,
        y / shrink,
      ]);
      fillPolygon(hidden, width, height, grown, 1);
    }
    return hidden;
  };
  return {
    full: picture,
    half,
    hiddenHalf: hide(half, 2),
    small,
    smallShrink,
    hiddenSmall: hide(small, smallShrink),
  };
}

export interface StripeView extends StripeDirection {
  readonly straight: Straightened;
}

/** Photo px per column and row of the straight picture: stripes are sharp across, and change little along. */
const PX_PER_COLUMN = 2;
const PX_PER_ROW = 8;
/** Side of the blocks that directions of a check are taken from, px of the small copy. */
const CHECK_BLOCK_PX = 10;

/** Direction and straight picture of the stripes, or null when nothing in the picture has a direction. */
export function viewStripes(levels: PictureLevels, pxPerMm: number): StripeView | null {
  const { small, smallShrink, hiddenSmall } = levels;
  let found = fitStripeFrame(blockDirections(small, hiddenSmall), small.width, small.height);
  if (found !== null && found.secondAngle !== null) {
    // Corners of a check turn the direction of a block that holds one: small blocks mostly hold none.
    const blocks = blockDirections(small, hiddenSmall, CHECK_BLOCK_PX);
    found = fitStripeFrame(blocks, small.width, small.height) ?? found;
  }
  if (found === null) return null;
  const frame = enlarged(found.frame, smallShrink);
  return { ...found, frame, straight: straightenAlong(levels, frame, pxPerMm) };
}

/** The same for the second direction of a check. */
export function viewSecondStripes(levels: PictureLevels, pxPerMm: number, angle: number): StripeView {
  const { small, smallShrink, hiddenSmall } = levels;
  const blocks = blockDirections(small, hiddenSmall, CHECK_BLOCK_PX);
  const frame = enlarged(fitStripeFrameNear(blocks, angle, small.width, small.height), smallShrink);
  return { frame, support: 0, secondAngle: null, straight: straightenAlong(levels, frame, pxPerMm) };
}

function straightenAlong(levels: PictureLevels, frame: StripeFrame, pxPerMm: number): Straightened {
  return straighten(levels.half, 2, levels.hiddenHalf, frame, pxPerMm, PX_PER_COLUMN, PX_PER_ROW);
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
