import { complaintLine } from '../../base/complaint.js';
import { anyText, check } from '../../base/expectation.js';
import { type Outcome, refuse, succeed } from '../../base/outcome.js';
import { type SchemaError, schemaComplaint } from '../../base/schema-complaint.js';
import type { Placement } from './placement.js';
import { validatePlacement } from './placement-validator.js';

const REMEDY = 'place the pieces of the plan anew';

/** Reads the text of a place.json: JSON, then the schema. Refuses with the field that is wrong. */
export function parsePlacement(text: string): Outcome<Placement> {
  check(text, 'text', anyText);
  let value: unknown;
  try {
    // Some editors put a byte order mark first, which JSON forbids.
    value = JSON.parse(text.replace(/^\uFEFF/, ''));
  } catch (error) {
    return refuse('unreadable', `The placement is not JSON (${(error as Error).message})`, REMEDY);
  }
  if (!validatePlacement(value)) {
    const [error] = validatePlacement.errors as SchemaError[];
    return refuse('unreadable', `In the placement ${complaintLine(schemaComplaint(error))}`, REMEDY);
  }
  return succeed(value as Placement);
}
