import { type Complaint, complaintLine, shown } from '../base/complaint.js';
import { UsageError } from '../base/outcome.js';
import { type SchemaError, schemaComplaint } from '../base/schema-complaint.js';
import type { BandModel } from './band-model.js';
import { validateBandModel } from './band-model-validator.js';
import { brokenInvariant } from './invariants.js';

/**
 * Throws UsageError unless the value is a band model: complete, by its schema and by what no schema can say. Text is read by
 * `parseBandModel`, which refuses in place of throwing.
 */
export function checkBandModel(model: BandModel, parameter = 'model'): void {
  if (typeof model !== 'object' || model === null) {
    throw new UsageError(`expected a band model, received ${shown(model)}`, parameter);
  }
  const complaint = complaintOf(model);
  if (complaint !== null) throw usageErrorOf(complaint, parameter);
}

/** Of a model made here: what is wrong with it is a fault of the program and none of its caller, so no UsageError. */
export function assertOwnModel(model: BandModel): void {
  const complaint = complaintOf(model);
  if (complaint !== null) throw new Error(`the measured model is not valid: ${complaintLine(complaint)}`);
}

const complaintOf = (model: BandModel): Complaint | null =>
  validateBandModel(model)
    ? brokenInvariant(model)
    : schemaComplaint((validateBandModel.errors as SchemaError[])[0]);

const usageErrorOf = ({ field, found, expected }: Complaint, parameter: string): UsageError =>
  new UsageError(
    `expected ${expected}, received ${found}`,
    field === '' ? parameter : `${parameter}.${field}`,
  );
