import { complaintLine } from '../../base/complaint.js';
import { anyText, check } from '../../base/expectation.js';
import { type Outcome, refuse, succeed } from '../../base/outcome.js';
import { type SchemaError, schemaComplaint } from '../../base/schema-complaint.js';
import { checkPieces } from './check-pieces.js';
import { completePieces, type RawPieces } from './complete-pieces.js';
import type { PiecesFile } from './pieces-file.js';
import { validatePieces } from './pieces-validator.js';

/**
 * Reads the text of a pieces.json: JSON, the schema, then what no schema can say (see checkPieces). Lengths come back as numbers
 * of mm, and what may be left out is filled in. Refuses with the field, or with the piece and the place on it.
 *
 * @example
 * import { readFile } from 'node:fs/promises';
 * import { parsePieces } from 'stripewright';
 *
 * const pieces = parsePieces(await readFile('samples/pieces/tunic.pieces.json', 'utf8'));
 * if (pieces.ok) {
 *   console.log(pieces.value.pieces.map((piece) => piece.id).join(' ')); // front back sleeve gore collar sash
 * }
 */
export function parsePieces(text: string): Outcome<PiecesFile> {
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
    if (format === 'stripewright.pieces' && typeof version === 'number' && version > 1) {
      return refuse(
        'unreadable',
        `version is ${version}, expected 1`,
        'read it with a newer release of this program',
      );
    }
  }
  return piecesFromValue(parsed);
}

/** The same of a value that was JSON: pieces that stand within another file. */
export function piecesFromValue(value: unknown): Outcome<PiecesFile> {
  if (!validatePieces(value)) {
    return unreadable(complaintLine(schemaComplaint((validatePieces.errors as SchemaError[])[0])));
  }
  const file = completePieces(value as RawPieces);
  const fault = checkPieces(file.pieces);
  return fault === null ? succeed(file) : unreadable(fault);
}

const unreadable = (found: string): Outcome<never> => refuse('unreadable', found, 'correct the file');
