import ts from 'typescript';
import type { Descriptions } from '../../src/core/base/described.js';

/**
 * The doc comment of every field of the interfaces in a source text, on one line. A field that is itself a record, a list of records
 * or null beside one carries the name of that record's type; a type without a name is called by its field, "RepeatFacts.alternatives".
 */
export function fieldDocs(text: string): Descriptions {
  const source = ts.createSourceFile('source.ts', text, ts.ScriptTarget.Latest, true);
  const named = source.statements.filter(ts.isInterfaceDeclaration);
  const names = new Set(named.map((one) => one.name.text));
  const found: Record<string, Record<string, readonly [string, string?]>> = {};
  const read = (name: string, members: ts.NodeArray<ts.TypeElement>): void => {
    const fields: Record<string, readonly [string, string?]> = {};
    found[name] = fields;
    for (const member of members) {
      if (!ts.isPropertySignature(member) || member.type === undefined) continue;
      const field = (member.name as ts.Identifier).text;
      const words = ts
        .getJSDocCommentsAndTags(member)
        .map((doc) => ts.getTextOfJSDocComment(doc.comment) ?? '')
        .join(' ')
        .replace(/\s+/g, ' ')
        .trim();
      const of = recordOf(member.type, `${name}.${field}`);
      fields[field] = of === null ? [words] : [words, of];
    }
  };
  const recordOf = (type: ts.TypeNode, inline: string): string | null => {
    if (ts.isTypeLiteralNode(type)) {
      read(inline, type.members);
      return inline;
    }
    if (ts.isTypeOperatorNode(type)) return recordOf(type.type, inline);
    if (ts.isArrayTypeNode(type)) return recordOf(type.elementType, inline);
    if (ts.isUnionTypeNode(type))
      return type.types.map((one) => recordOf(one, inline)).find((one) => one !== null) ?? null;
    if (!ts.isTypeReferenceNode(type)) return null;
    const name = (type.typeName as ts.Identifier).text;
    // Pick<SymmetryFacts, ...>
    if (type.typeArguments !== undefined) return recordOf(type.typeArguments[0], inline);
    return names.has(name) ? name : null;
  };
  for (const one of named) read(one.name.text, one.members);
  return found;
}
