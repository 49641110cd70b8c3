import { checkReferenceRequest, STRIPE_HINTS } from '../core/base/check-request.js';
import { callback, check, checkFields, optional, record, text } from '../core/base/expectation.js';
import {
  type MeasuredCloth,
  NO_HINTS,
  type Outcome,
  type ReferenceRequest,
  type Stage,
  type StripeHints,
  succeed,
} from '../index.js';
import { type PhotoFile, readPhoto } from './read-photo.js';
import { type ShrunkPhoto, shrunkPhoto } from './shrunk-photo.js';

/** What one photo file gave, with the photo it was read from. */
export interface PhotoMeasurement extends MeasuredCloth {
  readonly photo: PhotoFile;
  /** What the overlay is drawn on. */
  readonly shrunk: Promise<ShrunkPhoto>;
}

export interface MeasurePhotoOptions {
  /** What a person says of the stripes; by default all is found. */
  readonly hints?: StripeHints;
  /** Told when a stage begins. */
  readonly onStage?: (stage: Stage) => void;
}

const OPTIONS = record({ hints: optional(STRIPE_HINTS), onStage: optional(callback) });

/**
 * Measures the stripes in a photo file. By default a ruler is looked for, whatever its unit. A photo that cannot be read or
 * measured is refused with the reason; a request that cannot be meant (points outside the photo) throws UsageError.
 *
 * @example
 * import { measurePhoto } from 'stripewright/node';
 *
 * const measured = await measurePhoto('samples/painted/ticking-metal-rule.jpg');
 * if (measured.ok) {
 *   console.log(measured.value.model.repeat.across_mm?.toFixed(1)); // 65.9
 * }
 */
export async function measurePhoto(
  path: string,
  request: ReferenceRequest = { kind: 'ruler', unit: 'auto' },
  options: MeasurePhotoOptions = {},
): Promise<Outcome<PhotoMeasurement>> {
  check(path, 'path', text);
  checkReferenceRequest(request);
  checkFields(options, 'options', OPTIONS);
  const { hints = NO_HINTS, onStage } = options;
  onStage?.('reading');
  // While sharp decodes on its own threads, the rest of the program is loaded on this one; not before, or it would be in the way.
  const read = await readPhoto(path, () => void measuring());
  if (!read.ok) return read;
  const measureCloth = await measuring();
  const photo = read.value;
  const shrunk = shrunkPhoto(photo);
  // Whoever needs it will meet a failure there.
  shrunk.catch(() => {});
  const measured = measureCloth(photo, request, { hints, onStage, now: () => performance.now() });
  if (!measured.ok) return measured;
  const { model } = measured.value;
  const warnings = [...photo.warnings, ...model.warnings];
  return succeed({ ...measured.value, photo, shrunk, model: { ...model, warnings } });
}

/** Loads what measures, of the library that alone: see importFromSource in the build. */
async function measuring() {
  const { measureCloth } = await import('../index.js');
  return measureCloth;
}
