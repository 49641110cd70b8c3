import { formatLength, type LengthUnit } from '../base/length.js';
import type { BandModel } from '../model/band-model.js';
import type { OverlayMarks } from '../render/overlay-marks.js';
import { type OverlayDrawing, overlaySvg } from '../render/overlay-svg.js';
import { overlayCaption } from './measure-words.js';

/** The overlay of one measurement with its words in the reader's unit; see overlaySvg. */
export function overlayDrawing(
  model: BandModel,
  marks: OverlayMarks,
  unit: LengthUnit,
  widthPx: number,
  photoHeightPx: number,
  shownPerPhoto: number,
): OverlayDrawing {
  const { repeat, scale } = model;
  const words = {
    repeat: repeat.across_mm === null ? null : `repeat ${formatLength(repeat.across_mm, unit)}`,
    reference: scale?.length_mm ? formatLength(scale.length_mm, unit) : null,
    caption: overlayCaption(model, unit),
  };
  return overlaySvg(marks, words, widthPx, photoHeightPx, shownPerPhoto);
}
