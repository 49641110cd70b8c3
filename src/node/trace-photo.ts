import {
  assemblePieces,
  type Outcome,
  type ReferenceRequest,
  succeed,
  type TracedFile,
  type TraceOptions,
  tracePaper,
} from '../index.js';
import { checkInside } from './measure-photo.js';
import { type PhotoFile, readPhoto } from './read-photo.js';

export interface PhotoTrace {
  readonly file: TracedFile;
  readonly photo: PhotoFile;
}

export interface TracePhotoOptions extends TraceOptions {
  /** What the traced line is: the stitching line (default), or the cutting line. */
  readonly as?: 'stitching' | 'cutting';
}

/**
 * Traces the pieces of paper in a photo file. `request` null: a ruler or two are looked for, else a sheet or a card. A photo that cannot be
 * read or traced is refused with the reason; a request that cannot be meant throws UsageError.
 */
export async function tracePhoto(
  path: string,
  request: ReferenceRequest | null = null,
  { as = 'stitching', ...options }: TracePhotoOptions = {},
): Promise<Outcome<PhotoTrace>> {
  const read = await readPhoto(path);
  if (!read.ok) return read;
  const photo = read.value;
  if (request !== null) checkInside(request, photo);
  const traced = tracePaper(photo, request, options);
  if (!traced.ok) return traced;
  const file = assemblePieces(photo, traced.value, as);
  return succeed({ file: { ...file, warnings: [...photo.warnings, ...file.warnings] }, photo });
}
