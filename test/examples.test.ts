import { readdirSync, readFileSync } from 'node:fs';
import * as promises from 'node:fs/promises';
import { createRequire } from 'node:module';
import { join } from 'node:path';
import ts from 'typescript';
import { afterAll, describe, expect, it } from 'vitest';
import * as door from '../src/node.js';

const SRC = 'src';
const require = createRequire(import.meta.url);

/** What each of these shows of itself, in its doc comment, is run as it stands there. */
const ENTRIES = [
  'measureCloth',
  'previewSeams',
  'parseBandModel',
  'formatBandModel',
  'typedCloth',
  'parsePieces',
  'placePieces',
  'measurePhoto',
  'writeMeasurement',
];

interface Example {
  readonly name: string;
  readonly code: string;
}

/** The examples in the doc comments of a source text. */
function examplesIn(text: string): Example[] {
  const source = ts.createSourceFile('source.ts', text, ts.ScriptTarget.Latest, true);
  return source.statements.flatMap((statement) =>
    ts.isFunctionDeclaration(statement)
      ? ts.getJSDocTags(statement).flatMap((tag) => {
          const code = ts.getTextOfJSDocComment(tag.comment);
          return tag.tagName.text === 'example' && code !== undefined
            ? [{ name: statement.name?.text ?? '', code }]
            : [];
        })
      : [],
  );
}

const examples = readdirSync(SRC, { recursive: true, encoding: 'utf8' })
  .filter((name) => name.endsWith('.ts'))
  .flatMap((name) => examplesIn(readFileSync(join(SRC, name), 'utf8')));

/** Folders that the examples made, to be taken away. */
const made: string[] = [];
const files = {
  ...promises,
  mkdtemp: async (prefix: string): Promise<string> => {
    made.push(await promises.mkdtemp(prefix));
    return made[made.length - 1];
  },
};
afterAll(() => Promise.all(made.map((folder) => promises.rm(folder, { recursive: true }))));

/** As a program that imports the package would run it; what it prints, a line each. */
async function printed(code: string): Promise<string[]> {
  const { outputText } = ts.transpileModule(code, {
    compilerOptions: { target: ts.ScriptTarget.ES2022, module: ts.ModuleKind.ESNext },
  });
  const body = outputText.replace(
    /^import \{([^}]*)\} from '([^']*)';$/gm,
    (_, names, from) => `const {${names.replaceAll(' as ', ': ')}} = load('${from}');`,
  );
  const lines: string[] = [];
  const load = (from: string): unknown =>
    /^stripewright(\/node)?$/.test(from) ? door : from === 'node:fs/promises' ? files : require(from);
  const output = { log: (...values: unknown[]) => void lines.push(values.map(String).join(' ')) };
  await new Function('load', 'console', `return (async () => {${body}})();`)(load, output);
  return lines;
}

/** What the example says that it prints: the comment behind each console.log. */
const promised = (code: string): string[] =>
  [...code.matchAll(/console\.log\(.*\); \/\/ (.*)$/gm)].map(([, words]) => words);

describe('the examples in doc comments', () => {
  it('are there for every entry function', () => {
    const shown = examples.map(({ name }) => name);
    expect(ENTRIES.filter((name) => !shown.includes(name))).toEqual([]);
  });

  it.each(examples)('$name: prints what it says', async ({ code }) => {
    expect(promised(code)).not.toEqual([]);
    expect(await printed(code)).toEqual(promised(code));
  });
});
