import { checkAll, numberWithin, wholeNumber } from '../base/expectation.js';
import { formatLength, LENGTH_UNIT, type LengthUnit } from '../base/length.js';
import type { BandModel } from '../model/band-model.js';
import { checkBandModel } from '../model/check-band-model.js';
import { OVERLAY_MARKS } from '../render/check-overlay-marks.js';
import type { OverlayMarks } from '../render/overlay-marks.js';
import { type OverlayDrawing, overlaySvg } from '../render/overlay-svg.js';
import { overlayCaption } from './measure-words.js';
import { originWords } from './origin-words.js';

/** A shorter way from the landmark to the zero line needs no arrow. */
const LEAST_OFFSET_MM = 3;

const SIDE = wholeNumber({ least: 1 });

/** The overlay of one measurement with its words in the reader's unit; see overlaySvg. */
export function overlayDrawing(
  model: BandModel,
  marks: OverlayMarks,
  unit: LengthUnit,
  widthPx: number,
  photoHeightPx: number,
  shownPerPhoto: number,
): OverlayDrawing {
  checkBandModel(model);
  checkAll({
    marks: [marks, OVERLAY_MARKS],
    unit: [unit, LENGTH_UNIT],
    widthPx: [widthPx, SIDE],
    photoHeightPx: [photoHeightPx, SIDE],
    shownPerPhoto: [shownPerPhoto, numberWithin({ above: 0 })],
  });
  const { repeat, scale, origin } = model;
  const words = {
    repeat:
      repeat.across_mm === null
        ? null
        : `repeat ${formatLength(repeat.across_mm, unit, repeat.across_sd_mm)}`,
    reference: scale?.length_mm
      ? formatLength(scale.length_mm, unit, scale.length_mm * scale.relative_sd)
      : null,
    caption: overlayCaption(model, unit),
    origin: origin ? originWords(origin, unit) : null,
    originOffset:
      origin && Math.abs(origin.v_mm) >= LEAST_OFFSET_MM ? formatLength(Math.abs(origin.v_mm), unit) : null,
    bands: model.bands.map(({ id, colour, width_mm }) => ({
      id,
      srgb: model.colours.find((one) => one.id === colour)?.srgb ?? '#ffffff',
      widthMm: width_mm,
    })),
    unit,
  };
  return overlaySvg(marks, words, widthPx, photoHeightPx, shownPerPhoto);
}
