/** Node: everything of the any-runtime door, and files. */
export * from './index.js';
export {
  type BatchList,
  holdsUnlisted,
  type ListedPhoto,
  readBatchList,
  recordedEntry,
} from './node/batch-list.js';
export {
  type BatchSetting,
  type EarlierWork,
  type RecordedEntry,
  readBatchRecord,
  sha256OfFile,
  writeBatchRecord,
} from './node/batch-record.js';
export { type MeasurePhotoOptions, measurePhoto, type PhotoMeasurement } from './node/measure-photo.js';
export { placementPictures } from './node/placement-pictures.js';
export { readCloth } from './node/read-cloth.js';
export { type ModelFile, readModel } from './node/read-model.js';
export { type PhotoFile, readPhoto } from './node/read-photo.js';
export { type PiecesKind, type PiecesSource, readPieces } from './node/read-pieces.js';
export { readPlacement } from './node/read-placement.js';
export { type PlanFile, readPlan } from './node/read-plan.js';
export {
  CHEVRON_FILE,
  CHEVRON_RECORD,
  checkResultFolder,
  MEASUREMENT_FILES,
} from './node/result-folder.js';
export { thumbnailOf, thumbnailOfUri } from './node/thumbnail.js';
export { type PhotoTrace, type TracePhotoOptions, tracePhoto } from './node/trace-photo.js';
export { TYPED_MODEL_FILE, type TypedModelFile, typedModelFile } from './node/typed-model.js';
export { writeBatchIndex } from './node/write-batch-index.js';
export { writeChevron } from './node/write-chevron.js';
export { type ResultFile, resolvedFolder, writeFiles } from './node/write-files.js';
export { type NamedDrawing, writeLay } from './node/write-lay.js';
export {
  type WriteOptions,
  type WrittenMeasurement,
  writeMeasurement,
} from './node/write-measurement.js';
export { PIECES_FILES, type WritePiecesOptions, writePieces } from './node/write-pieces.js';
export { writePlacement } from './node/write-placement.js';
export { checkTraceFolder, writeTrace, writeTraceRefusal } from './node/write-trace.js';
