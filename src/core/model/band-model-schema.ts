import { described } from '../base/described.js';
import { BAND_MODEL_DESCRIPTIONS } from './band-model-descriptions.js';

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
    across_mm: orNull(positive),
    across_sd_mm: orNull(atLeast0),
    repeats_seen: atLeast0,
    confidence: share,
    alternatives: list(record({ across_mm: positive, confidence: share })),
    along_mm: orNull(positive),
    along_sd_mm: orNull(atLeast0),
    drop_fraction: orNull(number),
    motif_across_mm: orNull(positive),
  },
  ['motif_across_mm'],
);

const bands = list(
  record(
    {
      id: text,
      colour: text,
      start_mm: number,
      width_mm: positive,
      width_sd_mm: orNull(atLeast0),
      width_mean_sd_mm: orNull(atLeast0),
      width_min_mm: orNull(atLeast0),
      width_max_mm: orNull(atLeast0),
      edge_sd_mm: orNull(atLeast0),
      mix: list(record({ colour: text, share })),
    },
    ['width_mean_sd_mm'],
  ),
  { minItems: 1 },
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
);

/** How far the print is its own image: score 1 wholly, 0 not at all. */
const likeness = record({ score: share, same: { type: ['boolean', 'null'] }, confidence: share });

const schema = {
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
        file: { type: 'string' },
        width_px: { type: 'integer', minimum: 1 },
        height_px: { type: 'integer', minimum: 1 },
        sha256: {
          type: 'string',
          pattern: '^([0-9a-f]{64})?$',
          title: '64 hexadecimal digits, or empty',
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
          },
        },
        ['ends_px', 'corners_px', 'ruler_class'],
      ),
      plane: recordOrNull({
        homography: tuple(number, 9),
        tilt_deg: { type: 'number', minimum: 0, maximum: 90 },
        residual_mm: atLeast0,
        k1: number,
      }),
      stripes: record({
        direction_deg: {
          type: ['number', 'null'],
          minimum: 0,
          exclusiveMaximum: 180,
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
            srgb: { type: 'string', pattern: '^#[0-9a-fA-F]{6}$', title: '"#rrggbb"' },
            lab: tuple(number, 3),
            name: text,
            name_given: { type: 'boolean' },
            share,
          },
          ['name_given'],
        ),
        { minItems: 1 },
      ),
      bands,
      instances,
      motifs: list(
        record(
          {
            colour: text,
            along_mm: number,
            across_mm: number,
            extent_mm: tuple(atLeast0, 2),
            mirrors_across: {
              type: ['boolean', 'null'],
            },
            mirrors_along: { type: ['boolean', 'null'] },
          },
          ['mirrors_across', 'mirrors_along'],
        ),
      ),
      intrusions: list(
        record({
          instance: count,
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
          directional: { type: ['boolean', 'null'] },
          direction_score: orNull(number),
          half_turn: likeness,
          mirror_along: likeness,
          mirror_across: likeness,
          verdict: { enum: ['two-way', 'mirror-symmetrical', 'one-way', null] },
          verdict_confidence: share,
          heavy_end: {
            enum: ['up', 'down', null],
          },
        },
        ['half_turn', 'mirror_along', 'mirror_across', 'verdict', 'verdict_confidence', 'heavy_end'],
      ),
      warnings: list(
        record(
          {
            code: text,
            message: text,
            settings: list(text),
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
      cloth: record(
        {
          file: text,
          px_per_mm: positive,
          left_u_mm: number,
          top_v_mm: number,
          frame_px: count,
        },
        ['frame_px'],
      ),
      origin: record({
        landmark: { enum: ['ruler-end', 'sheet-corner', 'card-corner', 'given-point', 'view-corner'] },
        at_px: point,
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
        },
        u_mm: number,
        v_mm: number,
        towards: {
          enum: ['up', 'down', 'left', 'right'],
        },
        words: text,
      }),
      given: record({
        direction_deg: orNull(number),
        region_px: orNull(tuple(number, 4)),
        bands: orNull(atLeast0),
      }),
    },
    ['check', 'cloth', 'origin', 'given'],
  ),
};

/** Each field's description is the doc comment of the same field in band-model.ts. */
export const bandModelSchema = described(schema, 'BandModel', BAND_MODEL_DESCRIPTIONS);
