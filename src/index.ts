/** Any runtime: the pure core. Lengths in mm; see DEVELOPERS.md for the frames. */
export type { GivenName } from './core/base/given-names.js';
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
  NO_HINTS,
  type PhotoRegion,
  parseReferenceRequest,
  parseStripeHints,
  type ReferenceRequest,
  type ReferenceWords,
  type SheetSize,
  type Stage,
  type StripeHints,
  type StripeWords,
} from './core/base/request.js';
export type { Setting } from './core/base/setting.js';
export { plainName } from './core/colour/plain-name.js';
export type {
  ClothToBuy,
  LaidCopyOnLength,
  LaidLength,
  LayAnswer,
  Remedy,
  ShortCopy,
  WidthRow,
} from './core/lay/answer/lay-answer.js';
export { laySchema } from './core/lay/answer/lay-schema.js';
export { parseLay } from './core/lay/answer/parse-lay.js';
export { DEFAULT_LAY, type LaySettings } from './core/lay/effort.js';
export { layPieces } from './core/lay/lay-pieces.js';
export type { ClothBox } from './core/lay/view/cloth-on-length.js';
export { type CopyView, type LengthView, viewOfLay } from './core/lay/view/lay-view.js';
export type * from './core/model/band-model.js';
export { formatBandModel } from './core/model/format-band-model.js';
export { numberedRepeats } from './core/model/numbered-repeats.js';
export { parseBandModel } from './core/model/parse-band-model.js';
export { typedCloth } from './core/model/typed-cloth.js';
export type { TypedModel } from './core/model/typed-model.js';
export type { FileUnit } from './core/pieces/dxf/dxf-units.js';
export { type DxfOptions, readPiecesDxf } from './core/pieces/dxf/read-pieces-dxf.js';
export { writePiecesDxf } from './core/pieces/dxf/write-pieces-dxf.js';
export { formatPieces } from './core/pieces/piece/format-pieces.js';
export { parsePieces, piecesFromValue } from './core/pieces/piece/parse-pieces.js';
export type {
  Copy,
  Piece,
  PiecesFile,
  PieceWarning,
  Seam,
  StripesWish,
} from './core/pieces/piece/pieces-file.js';
export { readPiecesSvg } from './core/pieces/svg/read-pieces-svg.js';
export { writePiecesSvg } from './core/pieces/svg/write-pieces-svg.js';
export { type PieceView, type SeamView, viewOfPiece } from './core/pieces/view/piece-view.js';
export { chevronForReport } from './core/pipeline/chevron-for-report.js';
export { type ChevronPictures, chevronPictures, type PictureJob } from './core/pipeline/chevron-pictures.js';
export { clothTilesOf } from './core/pipeline/cloth-tiles.js';
export type { CutGround } from './core/pipeline/cut-plans.js';
export { drawLay } from './core/pipeline/draw-lay.js';
export { drawPieces } from './core/pipeline/draw-pieces.js';
export { layDxf } from './core/pipeline/lay-dxf.js';
export { type MeasureOptions, measureCloth } from './core/pipeline/measure-cloth.js';
export type { ClothCloseUp, ClothPicture, MeasuredCloth } from './core/pipeline/measured-cloth.js';
export { type ChevronWords, parseChevronRequest } from './core/pipeline/parse-chevron-request.js';
export { drawnAnswers, placePictures } from './core/pipeline/place-pictures.js';
export { type ChevronRequest, DEFAULT_CHEVRON, previewSeams } from './core/pipeline/preview-seam.js';
export { assemblePieces } from './core/pipeline/trace/assemble-pieces.js';
export { type TraceOptions, tracePaper } from './core/pipeline/trace/trace-paper.js';
export type { TracedFacts, TracedFile, TracedPiece } from './core/pipeline/trace/traced-file.js';
export type { TracedPaper, TracedShape } from './core/pipeline/trace/traced-paper.js';
export { parsePlacement } from './core/place/answer/parse-placement.js';
export type {
  EdgeCrossed,
  JoinCrossing,
  JoinDrift,
  JoinOutcome,
  PlacedCopy,
  PlacedPoint,
  Placement,
  PlacementAnswer,
  Transform,
  UsedFile,
  WishOutcome,
} from './core/place/answer/placement.js';
export { placementOf } from './core/place/answer/placement-of.js';
export { placementSchema } from './core/place/answer/placement-schema.js';
export { type Placings, type PlacingWarning, placePieces } from './core/place/place-pieces.js';
export { firstPlan } from './core/place/plan/first-plan.js';
export { outcomeWords } from './core/place/plan/outcome-words.js';
export { parsePlan } from './core/place/plan/parse-plan.js';
export type * from './core/place/plan/plan.js';
export { planSchema } from './core/place/plan/plan-schema.js';
export { type Names, namesIn } from './core/place/plan/wish-words.js';
export { layOver } from './core/raster/lay-over.js';
export type { Photo } from './core/raster/photo.js';
export { type PixelData, type Raster, raster } from './core/raster/raster.js';
export { framedPicture } from './core/render/cloth-frame.js';
export type { ClothTexture } from './core/render/cloth-raster.js';
export type { LayDrawing } from './core/render/lay/lay-drawing.js';
export type { OverlayMarks } from './core/render/overlay-marks.js';
export type { OverlayDrawing } from './core/render/overlay-svg.js';
export { pageDensity } from './core/render/page-size.js';
export type { ClothTiles } from './core/render/placing/drawn-copy.js';
export type { DrawnAnswer, SheetStyle, SvgSheet } from './core/render/placing/placement-sheets.js';
export { printedSwatch, printedSwatchSvg } from './core/render/printed-swatch.js';
export { paintSwatch, type Swatch, swatchOf, swatchSvg } from './core/render/swatch.js';
export { bandCsv } from './core/report/band-csv.js';
export { batchCsv } from './core/report/batch-csv.js';
export {
  type BatchEntry,
  type BatchFailure,
  type EntryFacts,
  entryFacts,
  type FailureReason,
  type Thumbnail,
} from './core/report/batch-entry.js';
export { type ChevronRecord, chevronRecord, type ModelSource } from './core/report/chevron-json.js';
export { chevronPage } from './core/report/chevron-page.js';
export { chevronSchema } from './core/report/chevron-schema.js';
export { chevronTable } from './core/report/chevron-table.js';
export { contactSheet } from './core/report/contact-sheet.js';
export { layTable } from './core/report/lay-table.js';
export { measureReport, type ReportParts } from './core/report/measure-report.js';
export { measureSummary } from './core/report/measure-summary.js';
export { modelWords } from './core/report/model-words.js';
export { originWords } from './core/report/origin-words.js';
export { overlayDrawing } from './core/report/overlay-drawing.js';
export { piecesSummary } from './core/report/pieces-summary.js';
export { placePage } from './core/report/place-page.js';
export { placeTable } from './core/report/place-table.js';
export { traceDrawing } from './core/report/trace-drawing.js';
export { traceSummary } from './core/report/trace-summary.js';
export { trueSizePage } from './core/report/true-size-page.js';
export { typedClothWords } from './core/report/typed-cloth-words.js';
export type { ChevronPreview, SeamPreview } from './core/seam/chevron-preview.js';
export {
  type BandCrossing,
  type CleanPlace,
  cleanPlaces,
  type SeamLine,
} from './core/seam/clean-places.js';
export { LAYS, type Lay, type PointOfV } from './core/seam/lay.js';
export { type MotifLattice, motifLattice } from './core/seam/motif-mirrors.js';
