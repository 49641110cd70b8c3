import { bandModelSchema } from './band-model-schema.js';
import { FOLLOWS, LEFT_OUT } from './typed-model.js';

interface RecordSchema {
  readonly required: readonly string[];
  readonly properties: Readonly<Record<string, object>>;
}
interface ListSchema {
  readonly items: object;
}

/** The same record, in which these fields may be left out. */
function mayLack(schema: object, defaults: object, follows: readonly string[] = []): RecordSchema {
  const { required } = schema as RecordSchema;
  const optional = [...Object.keys(defaults), ...follows];
  return { ...(schema as RecordSchema), required: required.filter((name) => !optional.includes(name)) };
}

const listOf = (schema: object, items: object): object => ({ ...(schema as ListSchema), items });
const itemsOf = (schema: object): object => (schema as ListSchema).items;

const { photo: _, stripes, repeat, colours, bands, symmetry, check, ...rest } = bandModelSchema.properties;

const typedRepeat = mayLack(repeat, LEFT_OUT.repeat);
const typedBands = listOf(bands, mayLack(itemsOf(bands), LEFT_OUT.band, FOLLOWS.band));
const typedCheck = mayLack(check, LEFT_OUT.check);
const { required } = mayLack(bandModelSchema, LEFT_OUT.model, FOLLOWS.model);

/**
 * What is accepted of a band model without a photo, as a JSON Schema, draft 2020-12: the schema of bands.json, in which fields may be
 * left out that follow from others or were not measured. The build writes it as typed-model.schema.json. Every model that passes
 * and has been completed passes the schema of bands.json too.
 */
export const typedModelSchema = {
  $schema: 'https://json-schema.org/draft/2020-12/schema',
  $id: 'urn:stripewright:typed-model:1',
  title: 'Band model of a striped cloth, typed by hand',
  description:
    'A band model without a photo. Lengths in mm; bands in order across the stripes, one repeat. What is left out follows from the rest or counts as not known.',
  examples: [
    {
      format: 'stripewright.band-model',
      version: 1,
      units: 'mm',
      repeat: { across_mm: 27 },
      colours: [
        { id: 'A', srgb: '#2b3a67', name: 'indigo' },
        { id: 'B', srgb: '#f3ead7', name: 'ivory' },
        { id: 'C', srgb: '#c48a2c', name: 'ochre' },
      ],
      bands: [
        { id: 'b1', colour: 'A', width_mm: 14 },
        { id: 'b2', colour: 'B', width_mm: 9 },
        { id: 'b3', colour: 'C', width_mm: 4 },
      ],
      symmetry: { balanced: false, directional: false },
    },
  ],
  type: 'object',
  required,
  properties: {
    ...rest,
    photo: { type: 'null', description: 'Null or left out: a model with a photo leaves nothing out.' },
    stripes: mayLack(stripes, LEFT_OUT.stripes, FOLLOWS.stripes),
    repeat: typedRepeat,
    colours: listOf(colours, mayLack(itemsOf(colours), {}, FOLLOWS.colour)),
    bands: typedBands,
    symmetry: mayLack(symmetry, LEFT_OUT.symmetry, FOLLOWS.symmetry),
    check: {
      ...typedCheck,
      properties: { ...typedCheck.properties, repeat: typedRepeat, bands: typedBands },
    },
  },
};
