import { SIGNED_LENGTH_PATTERN } from '../../base/length.js';

/**
 * The contract of pieces.json as a JSON Schema, draft 2020-12. The build writes it beside the package as pieces.schema.json. What
 * no schema can say is in check-pieces.ts. Fields not listed are allowed, so that a reader of photos may add what it saw.
 */

const text = { type: 'string', minLength: 1 };
/** A number of mm, or a text with its unit. */
const length = {
  type: ['number', 'string'],
  pattern: SIGNED_LENGTH_PATTERN,
  description: 'mm, or a text with its unit such as "12in", "4 1/2 in", "30cm" or "-3mm"',
};
const point = {
  type: 'array',
  prefixItems: [length, length],
  items: false,
  minItems: 2,
  description: '[x, y]: x right, y up, seen from the outside of the garment.',
};
const line = (extra: object = {}) => ({ type: 'array', items: point, ...extra });

const record = (properties: Record<string, object>, optional: readonly string[] = []) => ({
  type: 'object',
  required: Object.keys(properties).filter((name) => !optional.includes(name)),
  properties,
});

const piece = record(
  {
    id: text,
    name: text,
    stitching: line({ minItems: 3, description: 'The stitching line, closed, simple, either winding.' }),
    cutting: {
      type: ['array', 'null'],
      items: point,
      minItems: 3,
      description: 'The cutting line; of a piece with a fold, that of the half.',
    },
    allowance_mm: {
      ...length,
      type: ['number', 'string', 'null'],
      minimum: 0,
      description:
        'Without a cutting line: the stitching line moved out by so much, mitred, is the cutting line.',
    },
    grain: line({ minItems: 2, maxItems: 2, description: 'From the foot of the grain line to its head.' }),
    stripes: record(
      {
        to: {
          ...text,
          description: '"grain", or the id of a seam: the straight line from its start to its end.',
        },
        angle_deg: { type: 'number', description: 'Counter-clockwise from there; default 0.' },
      },
      ['angle_deg'],
    ),
    points: { type: 'object', additionalProperties: point, description: 'Named places.' },
    seams: {
      type: 'array',
      items: record({ id: text, from: text, to: text }),
      description:
        'Parts of the stitching line between two points on it, in the order in which it is listed; from = to: all of it.',
    },
    fold: {
      type: ['string', 'null'],
      minLength: 1,
      description: 'The seam about which the other half is a mirror image, the two cut as one.',
    },
    copies: {
      type: 'array',
      items: record({ id: text, mirrored: { type: 'boolean' } }, ['mirrored']),
      minItems: 1,
      description: "What is cut of it; default one, with the piece's id. Ids are unique over all pieces.",
    },
    notches: { type: 'array', items: text, description: 'Points that are notches.' },
  },
  ['name', 'cutting', 'allowance_mm', 'stripes', 'points', 'seams', 'fold', 'copies', 'notches'],
);

export const piecesSchema = {
  $schema: 'https://json-schema.org/draft/2020-12/schema',
  $id: 'urn:stripewright:pieces:1',
  title: 'Pattern pieces',
  description: 'Lengths are numbers of mm, or texts with their unit.',
  ...record(
    {
      format: { const: 'stripewright.pieces' },
      version: { const: 1 },
      units: { const: 'mm' },
      pieces: { type: 'array', items: piece, minItems: 1 },
      warnings: { type: 'array', items: record({ code: text, message: text }) },
    },
    ['warnings'],
  ),
};
