import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { bandModelSchema } from '../../../src/core/model/band-model-schema.js';
import { fieldDocs } from '../../support/field-docs.js';

const docs = fieldDocs(readFileSync('src/core/model/band-model.ts', 'utf8'));

interface Schema {
  readonly description?: string;
  readonly properties?: Readonly<Record<string, Schema>>;
  readonly items?: Schema | false;
}

interface Described {
  readonly path: string;
  readonly description: string | undefined;
  readonly doc: string | undefined;
}

/** Every field of the schema, with what schema and types say of it. */
function fieldsOf(schema: Schema, type: string, path: string): Described[] {
  return Object.entries(schema.properties ?? {}).flatMap(([name, inner]) => {
    const [doc, of] = docs[type]?.[name] ?? [];
    const here = { path: `${path}${name}`, description: inner.description, doc };
    const record = inner.properties ? inner : inner.items || null;
    return [here, ...(record?.properties ? fieldsOf(record, of ?? '?', `${here.path}.`) : [])];
  });
}

describe('the schema of bands.json', () => {
  const fields = fieldsOf(bandModelSchema as Schema, 'BandModel', '');

  it('reaches every record of the types', () => {
    const reached = fields.map(({ path }) => path);
    for (const path of [
      'photo.sha256',
      'repeat.alternatives.confidence',
      'bands.mix.share',
      'check.instances.whole',
    ])
      expect(reached).toContain(path);
    expect(fields.length).toBeGreaterThan(100);
  });

  it('says of each field what its type says: after a change there, npx tsx scripts/describe-model.ts', () => {
    expect(fields.filter(({ description, doc }) => !doc || description !== doc)).toEqual([]);
  });

  it('knows every field of the types', () => {
    const missing = Object.entries(docs.BandModel).filter(
      ([name]) => !(name in (bandModelSchema.properties as object)),
    );
    expect(missing).toEqual([]);
  });
});
