import { readdirSync, readFileSync } from 'node:fs';
import { dirname, join } from 'node:path';
import { fileURLToPath } from 'node:url';
import ts from 'typescript';
import { describe, expect, it } from 'vitest';
import { importBreaches, importCycle, importsOf } from './support/import-rule.js';

const src = fileURLToPath(new URL('../src', import.meta.url));
const files = new Map(
  readdirSync(src, { recursive: true, encoding: 'utf8' })
    .map((path) => path.replaceAll('\\', '/'))
    .filter((path) => path.endsWith('.ts') && !path.endsWith('.d.ts'))
    .map((path) => [path, readFileSync(join(src, path), 'utf8')]),
);

describe('the source', () => {
  it('is there to be checked', () => {
    expect(files.size).toBeGreaterThan(50);
    expect(files.has('core/raster/raster.ts')).toBe(true);
  });

  it('keeps to the import rule', () => {
    expect(importBreaches(files)).toEqual([]);
  });

  it('has no import cycle', () => {
    expect(importCycle(files)).toBeNull();
  });

  it('has no file over 400 lines', () => {
    const long = [...files].filter(([, text]) => text.split('\n').length > 400).map(([path]) => path);
    expect(long).toEqual([]);
  });
});

describe('the core', () => {
  it('speaks of no command line options: it names parameters, the command its options', () => {
    const option = /--[a-z]/;
    const strings = (path: string, text: string): string[] => {
      const found: string[] = [];
      const visit = (node: ts.Node): void => {
        if (ts.isStringLiteralLike(node) || ts.isTemplateLiteralToken(node)) found.push(node.text);
        ts.forEachChild(node, visit);
      };
      visit(ts.createSourceFile(path, text, ts.ScriptTarget.Latest));
      return found;
    };
    expect(
      strings('x.ts', "i--; /* --no */ f('give --bands', `x --region`);").filter((s) => option.test(s)),
    ).toHaveLength(2);
    const spoken = [...files]
      .filter(([path]) => !path.startsWith('cli/'))
      .flatMap(([path, text]) => strings(path, text).map((one) => `${path}: ${one}`))
      .filter((line) => option.test(line));
    expect(spoken).toEqual([]);
  });

  const configFile = join(src, 'core', 'tsconfig.json');
  const { config } = ts.readConfigFile(configFile, ts.sys.readFile);
  const { options } = ts.parseJsonConfigFileContent(config, ts.sys, dirname(configFile));

  /** What the compiler, set as for the core, says of one more file in it. */
  function complaintsAbout(text: string): string[] {
    const planted = join(src, 'core', 'planted.ts');
    const host = ts.createCompilerHost({ ...options, noEmit: true });
    const readSource = host.getSourceFile.bind(host);
    host.getSourceFile = (file, languageVersion, ...rest) =>
      file.endsWith('planted.ts')
        ? ts.createSourceFile(file, text, languageVersion)
        : readSource(file, languageVersion, ...rest);
    const program = ts.createProgram([planted], { ...options, noEmit: true }, host);
    return ts
      .getPreEmitDiagnostics(program)
      .map((found) => ts.flattenDiagnosticMessageText(found.messageText, ' '));
  }

  it('is compiled without Node and DOM: a file that uses either is refused', () => {
    expect(complaintsAbout('export const half = (x: number): number => x / 2;')).toEqual([]);
    const globals = [
      'process',
      'Buffer',
      'console',
      'document',
      'window',
      'setTimeout',
      'performance',
      'fetch',
    ];
    const complaints = complaintsAbout(globals.map((name, i) => `export const x${i} = ${name};`).join('\n'));
    for (const name of globals) {
      expect(
        complaints.some((line) => line.includes(`'${name}'`)),
        name,
      ).toBe(true);
    }
    expect(
      complaintsAbout("import { readFileSync } from 'node:fs'; export const read = readFileSync;"),
    ).toHaveLength(1);
  });
});

describe('the checker', () => {
  const breachesOf = (path: string, text: string): string[] => importBreaches(new Map([[path, text]]));

  it.each([
    ['core/math/a.ts', "import { x } from '../raster/b.js';", 'may not import core/raster/b.ts'],
    ['core/math/a.ts', "import type { X } from '../raster/b.js';", 'may not import core/raster/b.ts'],
    [
      'core/stripes/a.ts',
      "import { x } from '../rectify/b.js';",
      'may import only types from core/rectify/b.ts',
    ],
    ['core/stripes/a.ts', "import { type X, y } from '../rectify/b.js';", 'may import only types'],
    ['core/stripes/a.ts', "export * from '../rectify/b.js';", 'may import only types'],
    ['core/stripes/a.ts', "const b = await import('../rectify/b.js');", 'may import only types'],
    ['core/seam/a.ts', "let x: import('../stripes/b.js').X;", 'may not import core/stripes/b.ts'],
    ['core/seam/a.ts', "import '../reference/b.js';", 'may not import core/reference/b.ts'],
    ['core/raster/a.ts', "import sharp from 'sharp';", 'may not import the package "sharp"'],
    ['core/raster/a.ts', "import { readFile } from 'node:fs/promises';", 'may not import the package'],
    ['core/base/a.ts', "import { x } from '../../node/b.js';", 'may not import node/b.ts'],
    ['index.ts', "export * from './node/b.js';", 'may not import node/b.ts'],
    ['node/a.ts', "import { x } from '../core/raster/b.js';", 'may not import core/raster/b.ts'],
    ['cli/a.ts', "import sharp from 'sharp';", 'may not import the package "sharp"'],
    ['cli/a.ts', "import { x } from '../../test/support/b.js';", 'may not import'],
    ['core/helpers/a.ts', '', '"helpers" is not in the table of folders'],
  ])('refuses in %s: %s', (path, text, breach) => {
    expect(breachesOf(path, text)).toHaveLength(1);
    expect(breachesOf(path, text)[0]).toContain(breach);
  });

  it.each([
    ['core/stripes/a.ts', "import type { X } from '../rectify/b.js';"],
    [
      'core/stripes/a.ts',
      "import { type X, type Y } from '../rectify/b.js'; import { z } from '../math/c.js';",
    ],
    ['core/stripes/a.ts', "import { x } from './b.js';"],
    ['core/pipeline/a.ts', "import { x } from '../rectify/b.js'; import { y } from '../seam/c.js';"],
    ['core/math/a.ts', "import { Matrix } from 'ml-matrix';"],
    ['index.ts', "export { x } from './core/math/b.js';"],
    ['node/a.ts', "import sharp from 'sharp'; import { x } from '../index.js'; import 'node:fs';"],
    ['cli/a.ts', "import { x } from '../node.js';"],
  ])('allows in %s: %s', (path, text) => {
    expect(breachesOf(path, text)).toEqual([]);
  });

  it('finds a cycle of any length, through types too', () => {
    const ring = new Map([
      ['core/math/a.ts', "import { b } from './b.js';"],
      ['core/math/b.ts', "import type { C } from './c.js';"],
      ['core/math/c.ts', "export { a } from './a.js';"],
    ]);
    expect(importCycle(ring)).toEqual([
      'core/math/a.ts',
      'core/math/b.ts',
      'core/math/c.ts',
      'core/math/a.ts',
    ]);
    expect(importCycle(new Map([['core/math/a.ts', "import { b } from './b.js';"]]))).toBeNull();
  });

  it('reads nothing into comments and strings', () => {
    expect(importsOf("// import x from 'y';\nconst s = \"import z from 'w'\";")).toEqual([]);
  });
});
