import { SIGNED_LENGTH_PATTERN } from '../../base/length.js';
import { WISH_KINDS } from './plan.js';

/**
 * A plan as a JSON Schema, draft 2020-12. The build writes it beside the package as plan.schema.json. What no schema can say (names
 * that exist, kinds of cloth that a wish makes sense on) is checked when the plan meets its pieces and its cloth.
 */

const text = { type: 'string', minLength: 1 };
/** A number of mm, or a text with its unit. */
const length = (description: string, extra: object = {}) => ({
  type: ['number', 'string'],
  pattern: SIGNED_LENGTH_PATTERN,
  description: `${description} A number of mm, or a text with its unit such as "12in", "4 1/2 in", "30cm" or "-3mm".`,
  ...extra,
});
const record = (properties: Record<string, object>, optional: readonly string[] = []) => ({
  type: 'object',
  required: Object.keys(properties).filter((name) => !optional.includes(name)),
  properties,
});
const half = {
  enum: ['given', 'mirrored'],
  description: 'Of a piece cut on a fold: on which half; the given one when left out.',
};
const reversed = {
  type: 'boolean',
  description: 'Sewn from its end, as one leg of a dart is: both run with the outline. Default false.',
};
const side = record({ copy: text, seam: text, half, reversed }, ['half', 'reversed']);

const wish = {
  ...record(
    {
      id: text,
      kind: { enum: WISH_KINDS },
      must: { type: 'boolean', description: 'An answer that misses it is none. Default false.' },
      within: length('The miss that still counts as met. Default 1 mm, or 0.02 where the miss is a share.'),
      weight: {
        type: 'number',
        minimum: 0,
        description: 'Cost of a mm of miss, or of a hundredth of a share. Default 1.',
      },
    },
    ['must', 'within', 'weight'],
  ),
  allOf: [
    ofKind(
      'lands',
      {
        copy: text,
        point: text,
        half,
        band: text,
        side: { enum: ['middle', 'start', 'end'] },
        direction: way(),
      },
      ['half', 'side', 'direction'],
    ),
    ofKind(
      'stays',
      {
        copy: text,
        seam: text,
        half,
        from: { ...text, description: 'The end of the seam that lengths count from: the id of a point.' },
        band: text,
        least_mm: length('The band shows no nearer to that end. Default 0.'),
        most_mm: length('The band shows no farther from that end; null: anywhere.', {
          type: ['number', 'string', 'null'],
        }),
        direction: way(),
      },
      ['half', 'least_mm', 'most_mm', 'direction'],
    ),
    ofKind('meets', { join: text }),
    ofKind(
      'agrees',
      {
        join: text,
        at: {
          type: 'number',
          minimum: 0,
          maximum: 1,
          description: 'Part of the seam passed from its start.',
        },
        by: { enum: ['band', 'colour'] },
        direction: way(),
      },
      ['by', 'direction'],
    ),
    ofKind(
      'shows',
      {
        copy: text,
        colour: text,
        want: { enum: ['most', 'least'] },
        near: {
          ...record(
            { seam: text, half, within_mm: length('Only the part of the piece so near to the seam counts.') },
            ['half'],
          ),
          type: ['object', 'null'],
        },
      },
      ['near'],
    ),
    ofKind(
      'clear',
      { copy: text, seam: text, half, margin_mm: length('From the seam to the nearest motif, at least.') },
      ['half'],
    ),
    ofKind('alike', { copies: { type: 'array', items: text, minItems: 2 } }),
  ],
};

function way() {
  return {
    enum: ['across', 'along'],
    description: 'Of a check: which stripes; those of the first direction (across) when left out.',
  };
}

function ofKind(kind: string, fields: Record<string, object>, optional: readonly string[] = []) {
  return {
    if: { properties: { kind: { const: kind } }, required: ['kind'] },
    // biome-ignore lint/suspicious/noThenProperty: a keyword of JSON Schema
    then: record(fields, optional),
  };
}

const clothLength = record(
  {
    id: text,
    width_mm: length('From selvage to selvage.'),
    length_mm: length('From cut end to cut end.'),
    stripes: { enum: ['lengthwise', 'crosswise'] },
    b1_start_mm: length(
      'From the left selvage (lengthwise) or the cut end (crosswise) to a place where the first band listed starts. Needed on striped cloth.',
      { type: ['number', 'string', 'null'] },
    ),
    along_start_mm: length(
      'From the cut end (lengthwise) or the left selvage (crosswise) to a place where v of the model is 0. Default 0.',
    ),
    flaws: {
      type: 'array',
      items: {
        type: 'array',
        prefixItems: [length('x'), length('y'), length('width'), length('height')],
        items: false,
        minItems: 4,
      },
      description:
        'Boxes that no piece may touch: x from the left selvage, y from the cut end, width, height.',
    },
  },
  ['b1_start_mm', 'along_start_mm', 'flaws'],
);

export const planSchema = {
  $schema: 'https://json-schema.org/draft/2020-12/schema',
  $id: 'stripewright/plan.schema.json',
  title: 'A plan: where on the pieces the stripes shall fall',
  ...record(
    {
      format: { const: 'stripewright.plan' },
      version: { const: 1 },
      units: { const: 'mm' },
      cloth: record(
        {
          model: {
            type: ['string', 'null'],
            description: 'A bands.json or its folder, from where the plan lies; null: plain cloth.',
          },
          one_way: {
            type: ['boolean', 'null'],
            description: 'Whether all pieces must point the same way; null: as the model says.',
          },
          nap: {
            enum: ['along', 'across'],
            description: 'Which way one-way cloth runs: along the stripes (default) or across them.',
          },
          wrong_side: {
            type: 'boolean',
            description: 'Whether a copy may show the wrong side. Default false.',
          },
          instances: {
            type: 'boolean',
            description: 'Place on the actual stripes in view, not on the mean repeat. Default false.',
          },
        },
        ['one_way', 'nap', 'wrong_side', 'instances'],
      ),
      pieces: {
        type: ['string', 'array'],
        items: { type: ['string', 'object'] },
        description: 'A file of pieces, several, or the pieces themselves.',
      },
      joins: { type: 'array', items: record({ id: text, left: side, right: side }) },
      wishes: { type: 'array', items: wish },
      lengths: { type: 'array', items: clothLength },
      margin_mm: length('Between cutting lines, and from selvage, ends and flaws, at least. Default 2.'),
    },
    ['joins', 'wishes', 'lengths', 'margin_mm'],
  ),
};
