import { REMEDY_KINDS } from './lay-answer.js';

/**
 * lay.json as a JSON Schema, draft 2020-12. The build writes it beside the package as lay.schema.json. Every field is required; unknown
 * fields are allowed.
 */

const text = { type: 'string' };
const number = (description: string, extra: object = {}) => ({ type: 'number', description, ...extra });
const record = (properties: Record<string, object>) => ({
  type: 'object',
  required: Object.keys(properties),
  properties,
});
const list = (items: object, extra: object = {}) => ({ type: 'array', items, ...extra });
const usedFile = record({ file: text, sha256: text });
const transform = (description: string) => ({
  type: 'array',
  items: { type: 'number' },
  minItems: 6,
  maxItems: 6,
  description: `[a, b, c, d, e, f] takes (x, y) to (a x + c y + e, b x + d y + f), mm: ${description}.`,
});
const bought = (description: string) => ({ type: ['number', 'null'], minimum: 0, description });

const length = record({
  id: text,
  width_mm: number('From selvage to selvage.', { minimum: 0 }),
  length_mm: number('From cut end to cut end.', { minimum: 0 }),
  stripes: { enum: ['lengthwise', 'crosswise'] },
  used_mm: number('From the cut end to the farthest cutting line; 0 where nothing lies on it.', {
    minimum: 0,
  }),
  left_mm: number('From there, and the margin, to the other end.', { minimum: 0 }),
  share_cut: number('Part of the cloth up to used_mm and a margin more that is cut out as pieces.', {
    minimum: 0,
    maximum: 1,
  }),
  cloth_from_length: transform('length frame to cloth frame'),
  copies: list(
    record({
      copy: text,
      piece: text,
      transform: transform('piece frame to length frame'),
      half_turned: {
        type: 'boolean',
        description: 'Turned half round from how the placement has it, which leaves its colours as they are.',
      },
      part: {
        type: ['array', 'null'],
        items: { type: 'array', items: { type: 'number' }, minItems: 2, maxItems: 2 },
        description:
          'Cutting line in the piece frame where the copy is joined from parts, of which this is one; null: the whole piece.',
      },
    }),
  ),
});

const orNull = (type: string, description: string, extra: object = {}) => ({
  type: [type, 'null'],
  description,
  ...extra,
});

const short = record({
  copy: text,
  length: orNull('string', 'The length on which least is lacking; null: it fits none, however long.'),
  more_mm: orNull('number', 'What that length would have to be longer; null: no length would do.', {
    minimum: 0,
  }),
  repeat: orNull(
    'integer',
    'Number of the repeat on which it would lie, from the left selvage or the cut end.',
  ),
  message: text,
});

const remedy = record({
  kind: { enum: REMEDY_KINDS },
  fits: { type: 'boolean', description: 'All pieces fit that way.' },
  answer: { type: 'integer', minimum: 1 },
  copy: orNull('string', 'The copy that is joined from two parts; else null.'),
  wish: orNull('string', 'The wish given up; else null.'),
  more_mm: orNull('number', 'More cloth, of the same width; else null.', { minimum: 0 }),
  message: text,
  lengths: list(length),
});

const widthRow = record({
  width_mm: number('From selvage to selvage.', { minimum: 0 }),
  scale: number("How much larger than the cloth's own the pattern is taken to be.", { minimum: 0 }),
  repeat_mm: orNull('number', 'Across the stripes; null on plain cloth.', { minimum: 0 }),
  matched_mm: bought('What the pieces take, stripes matched. Null: a piece is too wide.'),
  plain_mm: bought('The same pieces on plain cloth.'),
});

export const laySchema = {
  $schema: 'https://json-schema.org/draft/2020-12/schema',
  $id: 'stripewright/lay.schema.json',
  title: 'Where the pieces of a plan lie on the lengths of cloth in hand',
  ...record({
    format: { const: 'stripewright.lay' },
    version: { const: 1 },
    units: { const: 'mm' },
    plan: usedFile,
    files: list(usedFile),
    answer: { type: 'integer', minimum: 1, description: "Rank of the placement's answer that was laid." },
    fits: { type: 'boolean', description: 'Every copy has a place.' },
    unplaced: list(text),
    lengths: list(length, { minItems: 1 }),
    short: list(short),
    remedies: list(remedy),
    buy: record({
      width_mm: number('Width of the widest length.', { minimum: 0 }),
      matched_mm: bought(
        'What the pieces take, stripes matched, wherever they start on the new cloth; margins at both ends, rounded up to 10 mm. Null: a piece is too wide.',
      ),
      plain_mm: bought('The same pieces on plain cloth.'),
    }),
    widths: list(widthRow),
    margin_mm: number('Least distance between cutting lines, and from selvage, ends and flaws.', {
      minimum: 0,
    }),
    warnings: list(record({ code: text, message: text })),
  }),
};
