/**
 * place.json as a JSON Schema, draft 2020-12. The build writes it beside the package as placement.schema.json. Every field is required
 * unless said; unknown fields are allowed.
 */

const text = { type: 'string' };
const number = (description: string, extra: object = {}) => ({ type: 'number', description, ...extra });
const record = (properties: Record<string, object>, optional: readonly string[] = []) => ({
  type: 'object',
  required: Object.keys(properties).filter((name) => !optional.includes(name)),
  properties,
});
const list = (items: object, extra: object = {}) => ({ type: 'array', items, ...extra });
const usedFile = record({ file: text, sha256: text });
const edge = {
  ...record({ before: text, after: text, direction: { const: 'along' } }, ['direction']),
  type: ['object', 'null'],
  description: 'The bands before and after an edge that meets the seam on this side; null: none does here.',
};

const copy = record({
  copy: text,
  piece: text,
  mirrored: { type: 'boolean' },
  turned: { type: 'boolean', description: 'The head of the grain line points against v.' },
  face: { enum: ['right', 'wrong'] },
  transform: {
    type: 'array',
    items: { type: 'number' },
    minItems: 6,
    maxItems: 6,
    description:
      '[a, b, c, d, e, f] takes (x, y) of the piece frame to (a x + c y + e, b x + d y + f) of the cloth frame, mm.',
  },
  repeat: {
    type: ['integer', 'null'],
    description: 'Number of the repeat that the middle of the copy lies on, where actual stripes were used.',
  },
  points: {
    type: 'object',
    additionalProperties: record(
      {
        band: { type: ['string', 'null'] },
        from_start_mm: {
          type: ['number', 'null'],
          description: 'Across the stripes, from where that band starts.',
        },
        u_mm: number('Across the stripes.'),
        v_mm: number('Along the stripes.'),
        check_band: text,
      },
      ['check_band'],
    ),
  },
  shares: list(
    record({ colour: text, share: number('Of the stitched area.', { minimum: 0, maximum: 1.000001 }) }),
  ),
});

const join = record({
  id: text,
  unlike_mm: number('Of the left side, over which the two sides show different colours.', { minimum: 0 }),
  worst_mm: number('The longest unbroken part of it.', { minimum: 0 }),
  crossings: list(
    record({
      at_mm: number('From the start of the join, by the length of the left side.'),
      left: edge,
      right: edge,
    }),
  ),
  drift: {
    ...record({
      agrees_at_mm: number('Where along the join the stripes of both sides agree, or come nearest to it.'),
      start_mm: number(
        'How much farther along the join the right side shows what the left shows, at its start.',
      ),
      end_mm: number('The same at its end.'),
    }),
    type: ['object', 'null'],
    description: 'Null where the sides run alike, or do not cross the seam.',
  },
  expected: {
    ...record({
      cloth_p90_mm: number('From the unevenness of the cloth alone, nine times in ten.'),
      sewn_p90_mm: number('With laying, cutting and sewing.'),
      handling_mm: number('What laying, cutting and sewing slip by, nine times in ten.'),
    }),
    type: ['object', 'null'],
    description: 'What the worst edge of a join that meets may miss by; null where that is not known.',
  },
});

const wish = {
  ...record(
    {
      id: text,
      kind: text,
      met: { type: 'boolean' },
      miss_mm: number('', { minimum: 0 }),
      miss_share: number('', { minimum: 0 }),
    },
    ['miss_mm', 'miss_share'],
  ),
  oneOf: [{ required: ['miss_mm'] }, { required: ['miss_share'] }],
};

export const placementSchema = {
  $schema: 'https://json-schema.org/draft/2020-12/schema',
  $id: 'stripewright/placement.schema.json',
  title: 'Where the pieces of a plan lie on its cloth',
  ...record({
    format: { const: 'stripewright.placement' },
    version: { const: 1 },
    units: { const: 'mm' },
    plan: usedFile,
    files: list(usedFile),
    answers: list(
      record({
        rank: { type: 'integer', minimum: 1 },
        cost: number('The sum over the wishes of weight times miss, a share counting as 100 mm.', {
          minimum: 0,
        }),
        copies: list(copy),
        joins: list(join),
        wishes: list(wish),
      }),
      { minItems: 1, maxItems: 5 },
    ),
    warnings: list(record({ code: text, message: text })),
  }),
};
