import { checkReferenceRequest } from '../core/base/check-request.js';
import { callback, check, checkFields, oneOf, optional, record, text } from '../core/base/expectation.js';
import {
  assemblePieces,
  type Outcome,
  type ReferenceRequest,
  succeed,
  type TracedFile,
  type TraceOptions,
  tracePaper,
} from '../index.js';
import { type PhotoFile, readPhoto } from './read-photo.js';

export interface PhotoTrace {
  readonly file: TracedFile;
  readonly photo: PhotoFile;
}

export interface TracePhotoOptions extends TraceOptions {
  /** What the traced line is: the stitching line (default), or the cutting line. */
  readonly as?: 'stitching' | 'cutting';
}

const OPTIONS = record({
  as: optional(oneOf(['stitching', 'cutting'])),
  outline: optional(oneOf(['auto', 'edge', 'drawn'])),
  onStage: optional(callback),
});

/**
 * Traces the pieces of paper in a photo file. `request` null: a ruler or two are looked for, else a sheet or a card. A photo that cannot be
 * read or traced is refused with the reason; a request that cannot be meant throws UsageError.
 */
export async function tracePhoto(
  path: string,
  request: ReferenceRequest | null = null,
  options: TracePhotoOptions = {},
): Promise<Outcome<PhotoTrace>> {
  check(path, 'path', text);
  if (request !== null) checkReferenceRequest(request);
  checkFields(options, 'options', OPTIONS);
  const { as = 'stitching', ...tracing } = options;
  const read = await readPhoto(path);
  if (!read.ok) return read;
  const photo = read.value;
  const traced = tracePaper(photo, request, tracing);
  if (!traced.ok) return traced;
  const file = assemblePieces(photo, traced.value, as);
  return succeed({ file: { ...file, warnings: [...photo.warnings, ...file.warnings] }, photo });
}
