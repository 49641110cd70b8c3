import { type CameraPlane, clothMap } from '../rectify/camera-plane.js';
import { type ClothSheet, clothInWindow, clothSheet, extentOf } from '../rectify/cloth-picture.js';
import { evenSheet } from '../rectify/even-sheet.js';
import type { PictureLevels } from '../rectify/picture-levels.js';
import type { PlaneSolution } from '../rectify/solve-plane.js';
import { straightFromPicture } from '../rectify/stripe-frame.js';
import { hiddenInFull, type StripeView } from '../rectify/stripe-view.js';
import { logGainAt } from '../stripes/light-field.js';
import type { RoughReading } from '../stripes/stripe-reading.js';
import type { ClothCloseUp, ClothPicture } from './measured-cloth.js';

/** The rectified picture is kept to about this many pixels. */
const SHEET_PIXELS = 1_600_000;

/** What the cloth's picture is drawn from. */
export interface DrawnFrom {
  readonly levels: PictureLevels;
  readonly plane: PlaneSolution;
  /** Where the model counts from, mm of the plane. */
  readonly originUMm: number;
  /** Of the photo. */
  readonly pxPerMm: number;
  readonly view: StripeView;
  readonly reading: RoughReading;
}

/** Everything the photo shows, in even light. */
export function clothPicture(from: DrawnFrom, timesCoarser: number): ClothPicture {
  const { levels, plane, pxPerMm } = from;
  const whole = sheetDensity(plane.camera, plane.bowPerMm, pxPerMm);
  const density = whole / timesCoarser;
  // From the half-size copy unless that would have to be enlarged.
  const fine = whole > 0.6 * pxPerMm;
  const sheet = fine
    ? clothSheet(levels.full, 1, hiddenInFull(levels), plane.camera, plane.bowPerMm, density)
    : clothSheet(levels.half, 2, levels.hiddenHalf, plane.camera, plane.bowPerMm, density);
  return inModelFrame(sheet, from);
}

/** Parts of it from the photo's own pixels. */
export function closeUpOf(from: DrawnFrom): ClothCloseUp {
  const { levels, plane, originUMm, pxPerMm } = from;
  let hidden: Uint8Array | null = null;
  return {
    pxPerMm,
    draw: (window) => {
      hidden ??= hiddenInFull(levels);
      const source = { picture: levels.full, shrink: 1, hidden };
      const inPlane = { ...window, leftUMm: window.leftUMm + originUMm };
      return inModelFrame(clothInWindow(source, plane.camera, plane.bowPerMm, inPlane), from);
    },
  };
}

function inModelFrame(sheet: ClothSheet, { plane, view, reading, originUMm }: DrawnFrom): ClothPicture {
  const even = evenSheet(sheet, lightOverCloth(plane, view, reading));
  return { ...even, leftUMm: even.leftUMm - originUMm };
}

/** Log gain of the light at a place of the cloth (mm, bow taken out), as the stripes show it. */
function lightOverCloth(
  { camera, bowPerMm }: PlaneSolution,
  { straight, frame }: StripeView,
  reading: RoughReading,
): (uMm: number, vMm: number) => number {
  const { pictureFromCloth } = clothMap(camera);
  return (uMm, vMm) => {
    const [x, y] = pictureFromCloth(uMm + bowPerMm * vMm * vMm, vMm);
    const [u, v] = straightFromPicture(frame, x, y);
    const column = (u - straight.uFromPx) / straight.pxPerColumn;
    const row = (straight.vFromPx - v) / straight.pxPerRow;
    return logGainAt(reading.light, column, row);
  };
}

function sheetDensity(camera: CameraPlane, bowPerMm: number, pxPerMm: number): number {
  const [left, top, right, low] = extentOf(camera, bowPerMm);
  const areaMm2 = (right - left) * (top - low);
  return Math.min(pxPerMm, Math.sqrt(SHEET_PIXELS / areaMm2));
}
