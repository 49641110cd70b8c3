import { complaintLine } from '../base/complaint.js';
import { anyText, check } from '../base/expectation.js';
import { type Outcome, refuse, succeed } from '../base/outcome.js';
import { type SchemaError, schemaComplaint } from '../base/schema-complaint.js';
import type { BandModel } from './band-model.js';
import { validateBandModel } from './band-model-validator.js';
import { completeTypedModel } from './complete-typed-model.js';
import { brokenInvariant } from './invariants.js';
import type { TypedModel } from './typed-model.js';
import { validateTypedModel } from './typed-model-validator.js';

/**
 * Reads the text of a bands.json: JSON, the schema, then what no schema can say (widths fill the repeat, every colour
 * named is listed). A model without a photo may leave out what can be worked out from the rest: it is held to the schema of
 * typed models, and completed. Refuses with the field, what was found there and what was expected.
 *
 * @example
 * import { parseBandModel } from 'stripewright';
 *
 * const outcome = await parseBandModel('{ "format": "stripewright.band-model", "version": 2 }');
 * if (!outcome.ok) {
 *   console.log(outcome.refusal.found); // version is 2, expected 1
 * }
 */
export async function parseBandModel(text: string): Promise<Outcome<BandModel>> {
  check(text, 'text', anyText);
  let parsed: unknown;
  try {
    // Some editors put a byte order mark first, which JSON forbids.
    parsed = JSON.parse(text.replace(/^\uFEFF/, ''));
  } catch (error) {
    return unreadable(`The file is not JSON (${(error as Error).message})`);
  }
  if (typeof parsed === 'object' && parsed !== null && 'format' in parsed) {
    const { format, version } = parsed as { format: unknown; version?: unknown };
    if (format === 'stripewright.band-model' && typeof version === 'number' && version > 1) {
      return refuse(
        'unreadable',
        `version is ${version}, expected 1`,
        'read it with a newer release of this program',
      );
    }
  }
  const read = hasPhoto(parsed) ? measuredModel(parsed) : typedModel(parsed);
  if (!read.ok) return read;
  const broken = brokenInvariant(read.value);
  return broken === null ? read : unreadable(complaintLine(broken));
}

const hasPhoto = (parsed: unknown): boolean =>
  typeof parsed === 'object' && parsed !== null && 'photo' in parsed && parsed.photo !== null;

/** A model that has a photo leaves nothing out: there a field that is not there is damage. */
const measuredModel = (parsed: unknown): Outcome<BandModel> =>
  validateBandModel(parsed)
    ? succeed(parsed as BandModel)
    : unreadable(firstComplaint(validateBandModel.errors));

const typedModel = (parsed: unknown): Outcome<BandModel> =>
  validateTypedModel(parsed)
    ? succeed(completeTypedModel(parsed as TypedModel))
    : unreadable(firstComplaint(validateTypedModel.errors));

const firstComplaint = (errors: unknown): string =>
  complaintLine(schemaComplaint((errors as SchemaError[])[0]));

const unreadable = (found: string): Outcome<never> =>
  refuse('unreadable', found, 'correct the file, or measure the photo again');
