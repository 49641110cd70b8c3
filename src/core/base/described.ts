/** What fields of records mean, by the name of the record's type: the text, and the type of the field where that is a record too. */
export type Descriptions = Readonly<
  Record<string, Readonly<Record<string, readonly [text: string, of?: string]>>>
>;

interface Schema {
  readonly properties?: Readonly<Record<string, Schema>>;
  readonly items?: unknown;
}

/** The same schema with a description for each field, those of the records within it included. */
export function described<T extends Schema>(schema: T, type: string, descriptions: Descriptions): T {
  const texts = descriptions[type] ?? {};
  const field = (name: string, inner: Schema): Schema => {
    const [description, of] = texts[name] ?? [];
    return {
      ...(of === undefined ? inner : within(inner, of, descriptions)),
      ...(description === undefined ? {} : { description }),
    };
  };
  const properties = Object.fromEntries(
    Object.entries(schema.properties ?? {}).map(([name, inner]) => [name, field(name, inner)]),
  );
  return { ...schema, properties };
}

/** A record, or a list of them. */
const within = (schema: Schema, of: string, descriptions: Descriptions): Schema =>
  schema.properties !== undefined
    ? described(schema, of, descriptions)
    : { ...schema, items: described(schema.items as Schema, of, descriptions) };
