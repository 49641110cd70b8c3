/** Any runtime: the pure core. Lengths in mm; see DEVELOPERS.md for the frames. */
export {
  formatLength,
  formatLengthNumber,
  formatSmall,
  type LengthUnit,
  MM_PER_INCH,
  parseLengthMm,
} from './core/base/length.js';
export {
  type Outcome,
  type Refusal,
  type RefusalReason,
  refusalLine,
  refuse,
  succeed,
  UsageError,
} from './core/base/outcome.js';
export {
  parseReferenceRequest,
  type ReferenceRequest,
  type ReferenceWords,
  type SheetSize,
  type Stage,
} from './core/base/request.js';
export type * from './core/model/band-model.js';
export type { ClothPicture, MeasuredCloth } from './core/pipeline/measured-cloth.js';
export type { Photo } from './core/raster/photo.js';
export { type PixelData, type Raster, raster } from './core/raster/raster.js';
export type { OverlayMarks } from './core/render/overlay-marks.js';
