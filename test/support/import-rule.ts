import ts from 'typescript';

/** One import of a source file, as far as the rule cares. */
export interface Import {
  readonly specifier: string;
  /** Nothing of it is left when the program runs. */
  readonly typeOnly: boolean;
}

interface Rule {
  /** Places whose values and types may be imported: a folder of core, or a place outside it. */
  readonly values: readonly string[];
  /** Places of which only types may be. */
  readonly types?: readonly string[];
  /** Packages, or 'node:' for everything that Node brings. */
  readonly packages?: readonly string[];
}

const pixels = ['base', 'math', 'colour', 'raster'];

/**
 * Who may import whom. The folders of core, read downwards, are the flow of the data: a file imports from its own folder and
 * from those its line names. Between the stages from photo to model only types cross.
 */
export const importRules: Readonly<Record<string, Rule>> = {
  base: { values: [] },
  math: { values: ['base'], packages: ['ml-matrix', 'fft-js'] },
  colour: { values: ['base', 'math'] },
  raster: { values: ['base', 'math', 'colour'] },
  reference: { values: pixels, packages: ['ml-matrix'] },
  rectify: { values: pixels, types: ['reference'], packages: ['ml-matrix'] },
  stripes: { values: pixels, types: ['rectify'], packages: ['ml-matrix'] },
  model: { values: ['base', 'math', 'colour'], types: ['stripes'], packages: ['ajv'] },
  seam: { values: ['base', 'math', 'model'] },
  pieces: {
    values: ['base', 'math'],
    packages: ['ajv', 'clipper2-ts', 'svgpath', '@xmldom/xmldom', 'dxf-parser', '@tarikjabiri/dxf'],
  },
  trace: { values: [...pixels, 'pieces'], types: ['reference', 'rectify'], packages: ['ml-matrix'] },
  place: { values: ['base', 'math', 'model', 'seam', 'pieces'], packages: ['ajv'] },
  lay: { values: ['base', 'math', 'model', 'seam', 'pieces', 'place'], packages: ['ajv'] },
  render: { values: [...pixels, 'model'], types: ['seam', 'pieces', 'trace', 'place', 'lay'] },
  report: {
    values: ['base', 'model', 'render'],
    types: [...pixels, 'seam', 'pieces', 'place', 'lay', 'pipeline'],
  },
  pipeline: {
    values: [
      ...pixels,
      'reference',
      'rectify',
      'stripes',
      'model',
      'seam',
      'pieces',
      'trace',
      'place',
      'lay',
      'render',
      'report',
    ],
  },
  'index.ts': { values: ['core'] },
  node: { values: ['index.ts', 'base'], packages: ['node:', 'sharp', 'heic-decode'] },
  'node.ts': { values: ['index.ts', 'node'] },
  cli: { values: ['node.ts'], packages: ['node:', 'commander'] },
  page: { values: ['index.ts'] },
};

/** Every import, re-export and import() of a source text, in order. */
export function importsOf(text: string): Import[] {
  const found: Import[] = [];
  const add = (specifier: ts.Node | undefined, typeOnly: boolean): void => {
    if (specifier !== undefined && ts.isStringLiteralLike(specifier)) {
      found.push({ specifier: specifier.text, typeOnly });
    }
  };
  const visit = (node: ts.Node): void => {
    if (ts.isImportDeclaration(node)) add(node.moduleSpecifier, isTypeOnly(node.importClause));
    else if (ts.isExportDeclaration(node)) {
      const names =
        node.exportClause !== undefined && ts.isNamedExports(node.exportClause) ? node.exportClause : null;
      add(node.moduleSpecifier, node.isTypeOnly || allTypes(names?.elements));
    } else if (ts.isImportTypeNode(node)) add((node.argument as ts.LiteralTypeNode).literal, true);
    else if (ts.isCallExpression(node) && node.expression.kind === ts.SyntaxKind.ImportKeyword) {
      add(node.arguments[0], false);
    }
    ts.forEachChild(node, visit);
  };
  visit(ts.createSourceFile('file.ts', text, ts.ScriptTarget.ES2022, true));
  return found;
}

function isTypeOnly(clause: ts.ImportClause | undefined): boolean {
  if (clause === undefined) return false;
  if (clause.isTypeOnly) return true;
  const { name, namedBindings } = clause;
  return (
    name === undefined &&
    namedBindings !== undefined &&
    ts.isNamedImports(namedBindings) &&
    allTypes(namedBindings.elements)
  );
}

const allTypes = (elements: ts.NodeArray<ts.ImportSpecifier | ts.ExportSpecifier> | undefined): boolean =>
  elements !== undefined && elements.length > 0 && elements.every((one) => one.isTypeOnly);

/** "ajv/dist/2020.js" -> "ajv"; "@owner/name/part" -> "@owner/name". */
const packageOf = (specifier: string): string =>
  specifier
    .split('/')
    .slice(0, specifier.startsWith('@') ? 2 : 1)
    .join('/');

/** "core/raster/warp.ts" -> "raster"; "cli/main.ts" -> "cli"; "node.ts" -> "node.ts". */
function placeOf(path: string): string {
  const parts = path.split('/');
  return parts[0] === 'core' ? (parts.length > 2 ? parts[1] : 'core') : parts[0];
}

const isCore = (path: string): boolean => path.startsWith('core/');

/** "./x.js" seen from a file, as the path of a source file under src. */
function resolved(from: string, specifier: string): string {
  const url = new URL(specifier, `file:///${from}`);
  return url.pathname.slice(1).replace(/\.js$/, '.ts');
}

/** Every breach of the rule, one line each. Files by their path under src. */
export function importBreaches(files: ReadonlyMap<string, string>): string[] {
  const breaches: string[] = [];
  for (const [path, text] of files) {
    const place = placeOf(path);
    const rule = importRules[place];
    if (rule === undefined) {
      breaches.push(`${path}: "${place}" is not in the table of folders`);
      continue;
    }
    for (const { specifier, typeOnly } of importsOf(text)) {
      if (!specifier.startsWith('.')) {
        const allowed = rule.packages ?? [];
        const name = specifier.startsWith('node:') ? 'node:' : packageOf(specifier);
        if (!allowed.includes(name)) breaches.push(`${path}: may not import the package "${specifier}"`);
        continue;
      }
      const target = resolved(path, specifier);
      const targetPlace = placeOf(target);
      if (targetPlace === place) continue;
      if (rule.values.includes(targetPlace) || (rule.values.includes('core') && isCore(target))) continue;
      if (rule.types?.includes(targetPlace)) {
        if (!typeOnly) breaches.push(`${path}: may import only types from ${target}`);
        continue;
      }
      breaches.push(`${path}: may not import ${target}`);
    }
  }
  return breaches;
}

/** The first import cycle found, as the paths along it, or null. Types count: a cycle of types is one idea in two files. */
export function importCycle(files: ReadonlyMap<string, string>): string[] | null {
  const done = new Set<string>();
  const trail: string[] = [];
  const visit = (path: string): string[] | null => {
    if (trail.includes(path)) return [...trail.slice(trail.indexOf(path)), path];
    if (done.has(path)) return null;
    done.add(path);
    trail.push(path);
    for (const { specifier } of importsOf(files.get(path) ?? '')) {
      const cycle = specifier.startsWith('.') ? visit(resolved(path, specifier)) : null;
      if (cycle !== null) return cycle;
    }
    trail.pop();
    return null;
  };
  for (const path of files.keys()) {
    const cycle = visit(path);
    if (cycle !== null) return cycle;
  }
  return null;
}
