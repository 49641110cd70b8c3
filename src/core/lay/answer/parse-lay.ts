import { complaintLine } from '../../base/complaint.js';
import { anyText, check } from '../../base/expectation.js';
import { type Outcome, refuse, succeed } from '../../base/outcome.js';
import { type SchemaError, schemaComplaint } from '../../base/schema-complaint.js';
import type { LayAnswer } from './lay-answer.js';
import { validateLay } from './lay-validator.js';

/** Reads the text of a lay.json: JSON, then the schema. Refuses with the field that is wrong. */
export function parseLay(text: string): Outcome<LayAnswer> {
  check(text, 'text', anyText);
  let value: unknown;
  try {
    // Some editors put a byte order mark first, which JSON forbids.
    value = JSON.parse(text.replace(/^\uFEFF/, ''));
  } catch (error) {
    return refuse(
      'unreadable',
      `The lay is not JSON (${(error as Error).message})`,
      'make it anew from its plan',
    );
  }
  if (!validateLay(value)) {
    const [error] = validateLay.errors as SchemaError[];
    return refuse(
      'unreadable',
      `In the lay ${complaintLine(schemaComplaint(error))}`,
      'make it anew from its plan',
    );
  }
  return succeed(value as LayAnswer);
}
