import { type Complaint, shown } from './complaint.js';

/** What is used of an error of the schema validator. */
export interface SchemaError {
  readonly keyword: string;
  readonly instancePath: string;
  readonly params: Readonly<Record<string, unknown>>;
  readonly parentSchema?: unknown;
  readonly data?: unknown;
}

type Schema = Readonly<Record<string, unknown>>;

/** Words for the first thing a schema found wrong. The validator must run with `verbose`. */
export function schemaComplaint(error: SchemaError): Complaint {
  const schema = (error.parentSchema ?? {}) as Schema;
  const field = fieldOf(error.instancePath);
  if (error.keyword === 'required') {
    const name = String(error.params.missingProperty);
    const properties = schema.properties as Readonly<Record<string, Schema>>;
    return {
      field: field === '' ? name : `${field}.${name}`,
      found: 'missing',
      expected: wanted(properties[name]),
    };
  }
  return { field, found: shown(error.data), expected: wanted(schema) };
}

/** "/bands/2/width_mm" -> "bands[2].width_mm". */
function fieldOf(pointer: string): string {
  return pointer
    .split('/')
    .slice(1)
    .map((part) => part.replaceAll('~1', '/').replaceAll('~0', '~'))
    .reduce(
      (path, part) => (/^\d+$/.test(part) ? `${path}[${part}]` : path === '' ? part : `${path}.${part}`),
      '',
    );
}

const nouns: Readonly<Record<string, string>> = {
  string: 'text',
  number: 'a number',
  integer: 'a whole number',
  boolean: 'true or false',
  object: 'an object',
  array: 'a list',
  null: 'null',
};

/** What a schema asks of one value, in words. */
function wanted(schema: Schema): string {
  if ('const' in schema) return JSON.stringify(schema.const);
  if (Array.isArray(schema.enum)) return `one of ${schema.enum.map((v) => JSON.stringify(v)).join(', ')}`;
  const types = [schema.type].flat().filter((t): t is string => typeof t === 'string');
  return types.map((t) => `${nouns[t] ?? t}${t === 'null' ? '' : limits(schema)}`).join(' or ');
}

function limits(schema: Schema): string {
  if (typeof schema.pattern === 'string')
    return ` of the form ${schema.title ?? schema.description ?? schema.pattern}`;
  if (Array.isArray(schema.prefixItems)) return ` of ${schema.prefixItems.length}`;
  if (schema.minItems !== undefined && schema.minItems === schema.maxItems) return ` of ${schema.minItems}`;
  if (schema.minItems !== undefined) return ` of ${schema.minItems} or more`;
  if (schema.minLength !== undefined) return ', not empty';
  const low = schema.exclusiveMinimum ?? schema.minimum;
  const high = schema.exclusiveMaximum ?? schema.maximum;
  if (low !== undefined && high !== undefined) return ` from ${low} to ${high}`;
  if (schema.exclusiveMinimum !== undefined) return ` above ${low}`;
  return low === undefined ? '' : ` of ${low} or more`;
}
