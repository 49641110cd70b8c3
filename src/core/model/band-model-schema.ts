/**
 * The contract of bands.json as a JSON Schema, draft 2020-12. Kept as a module because any runtime can load it; the build
 * writes it beside the package as band-model.schema.json. What a schema cannot say is in invariants.ts.
 */

const text = { type: 'string', minLength: 1 };
const number = { type: 'number' };
const positive = { type: 'number', exclusiveMinimum: 0 };
const atLeast0 = { type: 'number', minimum: 0 };
const share = { type: 'number', minimum: 0, maximum: 1 };
const count = { type: 'integer', minimum: 0 };
const orNull = <T extends { type: string }>(schema: T) => ({ ...schema, type: [schema.type, 'null'] });
const list = (items: object, rest: object = {}) => ({ type: 'array', items, ...rest });
const tuple = (item: object, length: number) => ({
  type: 'array',
  prefixItems: new Array(length).fill(item),
  items: false,
  minItems: length,
});
const point = tuple(number, 2);

/** Every field is required but those named optional; fields not listed are allowed. */
const record = (properties: Record<string, object>, optional: readonly string[] = []) => ({
  type: 'object',
  required: Object.keys(properties).filter((name) => !optional.includes(name)),
  properties,
});
const recordOrNull = (properties: Record<string, object>, optional: readonly string[] = []) => ({
  ...record(properties, optional),
  type: ['object', 'null'],
});

const repeat = record(
  {
    across_mm: { ...orNull(positive), description: 'Across the stripes; null when no repeat was in view.' },
    across_sd_mm: orNull(atLeast0),
    repeats_seen: atLeast0,
    confidence: share,
    alternatives: list(record({ across_mm: positive, confidence: share })),
    along_mm: orNull(positive),
    along_sd_mm: orNull(atLeast0),
    drop_fraction: {
      ...orNull(number),
      description: 'From one cell of the print to the next across: shift along, part of along_mm.',
    },
    motif_across_mm: {
      ...orNull(positive),
      description: 'One cell of the print across, whole repeats; absent or null: across_mm.',
    },
  },
  ['motif_across_mm'],
);

const bands = list(
  record(
    {
      id: text,
      colour: { ...text, description: 'The id of one of the colours.' },
      start_mm: number,
      width_mm: positive,
      width_sd_mm: {
        ...orNull(atLeast0),
        description: 'Spread of the width from one instance of the band to another.',
      },
      width_mean_sd_mm: {
        ...orNull(atLeast0),
        description: 'Standard deviation of width_mm as the mean width of this band in the cloth.',
      },
      width_min_mm: orNull(atLeast0),
      width_max_mm: orNull(atLeast0),
      edge_sd_mm: orNull(atLeast0),
      mix: list(record({ colour: text, share })),
    },
    ['width_mean_sd_mm'],
  ),
  { minItems: 1, description: 'One repeat, in order of growing u.' },
);

const instances = list(
  record({
    band: text,
    repeat: { type: 'integer' },
    start_mm: number,
    end_mm: number,
    width_mm: positive,
    width_sd_mm: orNull(atLeast0),
    whole: { type: 'boolean' },
  }),
  { description: 'Every band seen, in order.' },
);

/** How far the print is its own image: score 1 wholly, 0 not at all. */
const likeness = record({ score: share, same: { type: ['boolean', 'null'] }, confidence: share });

export const bandModelSchema = {
  $schema: 'https://json-schema.org/draft/2020-12/schema',
  $id: 'urn:stripewright:band-model:1',
  title: 'Band model of a striped cloth',
  description:
    'Lengths in mm in the plane of the cloth: v along the stripes, u across them, v turned 90 degrees clockwise.',
  ...record(
    {
      format: { const: 'stripewright.band-model' },
      version: { const: 1 },
      units: { const: 'mm' },
      photo: recordOrNull({
        file: { type: 'string', description: 'Empty where the pixels came without a file.' },
        width_px: { type: 'integer', minimum: 1 },
        height_px: { type: 'integer', minimum: 1 },
        sha256: {
          type: 'string',
          pattern: '^([0-9a-f]{64})?$',
          description: '64 hexadecimal digits; empty where the pixels came without a file.',
        },
      }),
      scale: recordOrNull(
        {
          px_per_mm: positive,
          relative_sd: atLeast0,
          source: { enum: ['ruler', 'sheet', 'card', 'points', 'density'] },
          unit: { enum: ['mm', 'inch', null] },
          ends_px: tuple(point, 2),
          corners_px: list(point, { minItems: 4, maxItems: 4 }),
          length_mm: orNull(positive),
          ruler_class: {
            enum: ['I', 'II', 'III'],
            description: 'Accuracy class of Directive 2014/32/EU (MI-008) that relative_sd allows the ruler.',
          },
        },
        ['ends_px', 'corners_px', 'ruler_class'],
      ),
      plane: recordOrNull({
        homography: { ...tuple(number, 9), description: 'Row by row: undistorted photo px to cloth mm.' },
        tilt_deg: { type: 'number', minimum: 0, maximum: 90 },
        residual_mm: atLeast0,
        k1: number,
      }),
      stripes: record({
        direction_deg: {
          type: ['number', 'null'],
          minimum: 0,
          exclusiveMaximum: 180,
          description: 'In the photo, from +x counter-clockwise as seen.',
        },
        layout: { enum: ['stripe', 'check'] },
        bow_percent: orNull(number),
        skew_percent: orNull(number),
      }),
      repeat,
      colours: list(
        record(
          {
            id: text,
            srgb: { type: 'string', pattern: '^#[0-9a-fA-F]{6}$', description: '"#rrggbb"' },
            lab: { ...tuple(number, 3), description: 'CIELAB, D65 white, 2 degree observer.' },
            name: { ...text, description: 'In plain words, as it looks; or as somebody named it.' },
            name_given: { type: 'boolean', description: 'True where somebody named it; absent where not.' },
            share,
          },
          ['name_given'],
        ),
        { minItems: 1, description: "Shares of the cloth's area, sum 1." },
      ),
      bands,
      instances,
      motifs: list(
        record(
          {
            colour: text,
            along_mm: number,
            across_mm: number,
            extent_mm: { ...tuple(atLeast0, 2), description: 'Size along u and v.' },
            mirrors_across: {
              type: ['boolean', 'null'],
              description: 'Whether the drawing it belongs to stays the same with u reversed.',
            },
            mirrors_along: { type: ['boolean', 'null'], description: 'The same with v reversed.' },
          },
          ['mirrors_across', 'mirrors_along'],
        ),
      ),
      intrusions: list(
        record({
          instance: { ...count, description: 'Index into instances.' },
          edge: { enum: ['start', 'end', 'inside'] },
          along_from_mm: number,
          along_to_mm: number,
          depth_mm: number,
        }),
      ),
      symmetry: record(
        {
          balanced: { type: 'boolean' },
          balance_score: share,
          mirror_axes_mm: list(number),
          directional: { type: ['boolean', 'null'], description: 'Null when the photo cannot tell.' },
          direction_score: orNull(number),
          half_turn: { ...likeness, description: 'The print with one end turned round.' },
          mirror_along: { ...likeness, description: 'The print with v reversed.' },
          mirror_across: { ...likeness, description: 'The print with u reversed.' },
          verdict: { enum: ['two-way', 'mirror-symmetrical', 'one-way', null] },
          verdict_confidence: share,
          heavy_end: {
            enum: ['up', 'down', null],
            description: 'End of v at which most of the largest motif lies.',
          },
        },
        ['half_turn', 'mirror_along', 'mirror_across', 'verdict', 'verdict_confidence', 'heavy_end'],
      ),
      warnings: list(
        record(
          {
            code: text,
            message: text,
            settings: list(text, {
              description: 'What the message speaks of that can be set, such as "region" or "bands".',
            }),
          },
          ['settings'],
        ),
      ),
      check: record(
        {
          repeat,
          bands,
          instances,
          symmetry: record({
            balanced: { type: 'boolean' },
            balance_score: share,
            mirror_axes_mm: list(number),
          }),
        },
        ['symmetry'],
      ),
      cloth: {
        ...record(
          {
            file: text,
            px_per_mm: positive,
            left_u_mm: number,
            top_v_mm: number,
            frame_px: {
              ...count,
              description:
                'Width of the frame round the cloth, on every side; absent: none. Only alpha 255 is bare cloth.',
            },
          },
          ['frame_px'],
        ),
        description:
          'The rectified picture beside this file, and where on the cloth its top left corner lies.',
      },
      origin: {
        ...record({
          landmark: { enum: ['ruler-end', 'sheet-corner', 'card-corner', 'given-point', 'view-corner'] },
          at_px: { ...point, description: 'The landmark in the photo.' },
          place: {
            enum: [
              'upper left',
              'upper',
              'upper right',
              'left',
              'middle',
              'right',
              'lower left',
              'lower',
              'lower right',
            ],
            description: 'Part of the photo in which it lies.',
          },
          u_mm: { ...number, description: 'The landmark on the cloth.' },
          v_mm: {
            ...number,
            description: 'The landmark on the cloth: 0 along the stripes is so far from it.',
          },
          towards: {
            enum: ['up', 'down', 'left', 'right'],
            description: 'From the landmark to 0 along the stripes, as seen in the photo.',
          },
          words: text,
        }),
        description:
          'A place on the cloth that a person can find again, and where 0 along the stripes lies from it.',
      },
      given: {
        ...record({
          direction_deg: orNull(number),
          region_px: orNull(tuple(number, 4)),
          bands: orNull(atLeast0),
        }),
        description:
          'What a person said of the stripes: their direction, the part of the photo to read (x, y, width, height), bands in a repeat.',
      },
    },
    ['check', 'cloth', 'origin', 'given'],
  ),
};
