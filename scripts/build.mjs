// Builds the package into dist: types and modules by the compiler (first the core alone, with neither Node nor DOM types), then the
// doors and the command joined into few files, since opening a hundred small ones costs the command a tenth of a second.
import { execFileSync } from 'node:child_process';
import {
  chmodSync,
  copyFileSync,
  mkdirSync,
  readdirSync,
  readFileSync,
  rmSync,
  writeFileSync,
} from 'node:fs';
import { createRequire } from 'node:module';
import { dirname, relative } from 'node:path/posix';
import { fileURLToPath } from 'node:url';
import { Ajv2020 } from 'ajv/dist/2020.js';
import writeValidator from 'ajv/dist/standalone/index.js';
import { build, transform } from 'esbuild';

const root = new URL('../', import.meta.url);
const dist = new URL('dist/', root);
const packageFile = JSON.parse(readFileSync(new URL('package.json', root), 'utf8'));

rmSync(dist, { recursive: true, force: true });
const tsc = createRequire(import.meta.url).resolve('typescript/bin/tsc');
try {
  execFileSync(process.execPath, [tsc, '--build', '--force', fileURLToPath(new URL('src', root))], {
    stdio: 'inherit',
  });
} catch {
  process.exit(1);
}

// Each "./name.schema.json" of the package is written from the module beside it, name-schema.js.
for (const [door, target] of Object.entries(packageFile.exports)) {
  const name = /^\.\/(.+)\.schema\.json$/.exec(door)?.[1];
  if (name === undefined) continue;
  const file = new URL(target, root);
  const exported = Object.values(await import(new URL(`${name}-schema.js`, file).href));
  if (exported.length !== 1) {
    throw new Error(`${name}-schema: expected one export, the schema, found ${exported.length}`);
  }
  writeFileSync(file, `${JSON.stringify(exported[0], null, 2)}\n`);
}

copyFileSync(new URL('src/frames.md', root), new URL('frames.md', dist));
await writeValidators();
importFromSource();
await joinModules();
for (const command of Object.values(packageFile.bin)) chmodSync(new URL(command, root), 0o755);

/** Puts the code of each validator, name-validator.js, in place of the module that would make it from name-schema.js at run time. */
async function writeValidators() {
  const { VALIDATOR_OPTIONS } = await import(new URL('core/base/validator-options.js', dist).href);
  for (const name of readdirSync(dist, { recursive: true, encoding: 'utf8' })) {
    if (!name.endsWith('-validator.js')) continue;
    const module = new URL(name.replaceAll('\\', '/'), dist);
    const [exported] = Object.keys(await import(module.href));
    const [schema] = Object.values(await import(module.href.replace(/-validator\.js$/, '-schema.js')));
    const ajv = new Ajv2020({ ...VALIDATOR_OPTIONS, code: { source: true, esm: true } });
    ajv.addSchema(schema);
    const code = writeValidator.default(ajv, { [exported]: schema.$id });
    // Written by a program, read by none but the engine: a third of the package otherwise.
    writeFileSync(module, (await transform(code, { minify: true, format: 'esm', target: 'node20' })).code);
  }
}

/**
 * Imports by way of a door become imports of the modules that the names come from, whether they are made at the start or while the
 * program runs: else whatever takes one name from a door takes the whole library along, and the command could not begin to decode a
 * photo before all of it is loaded.
 */
function importFromSource() {
  const doors = new Map(
    ['index.js', 'node.js'].map((name) => [new URL(name, dist).href, sourcesOf(new URL(name, dist))]),
  );
  for (const name of readdirSync(dist, { recursive: true, encoding: 'utf8' })) {
    const file = new URL(name, dist);
    if (!name.endsWith('.js') || doors.has(file.href)) continue;
    const code = readFileSync(file, 'utf8');
    /** Each `{ name, .. }` taken from a door, written for the module it is from; null where the path is no door's. */
    const fromSources = (
      /** @type {string} */ names,
      /** @type {string} */ path,
      /** @type {(each: string, source: string) => string} */ written,
    ) => {
      const sources = doors.get(new URL(path, file).href);
      if (sources === undefined) return null;
      return names
        .split(',')
        .map((each) => each.trim())
        .filter((each) => each !== '')
        .map((each) => {
          const source = sources.get(each.split(/ as |:/)[0].trim());
          if (source === undefined) throw new Error(`${name}: ${each} is not among the exports of ${path}`);
          return written(each, relative(dirname(name), source).replace(/^(?!\.)/, './'));
        })
        .join('\n');
    };
    const direct = code
      .replace(
        /^import \{([^}]*)\} from '(\.[^']*)';$/gm,
        (whole, names, path) =>
          fromSources(names, path, (each, source) => `import { ${each} } from '${source}';`) ?? whole,
      )
      .replace(
        /^ *const \{([^}]*)\} = await import\('(\.[^']*)'\);$/gm,
        (whole, names, path) =>
          fromSources(names, path, (each, source) => `const { ${each} } = await import('${source}');`) ??
          whole,
      );
    if (direct !== code) writeFileSync(file, direct);
  }
}

/**
 * For each name a door exports, the module it is from, as a path in dist.
 * @param {URL} door
 * @returns {Map<string, string>}
 */
function sourcesOf(door) {
  const sources = new Map();
  const code = readFileSync(door, 'utf8');
  for (const [, names, path] of code.matchAll(/^export \{([^}]*)\} from '\.\/([^']*)';$/gm)) {
    for (const each of names.split(',')) if (each.trim() !== '') sources.set(each.trim(), path);
  }
  for (const [, path] of code.matchAll(/^export \* from '\.\/([^']*)';$/gm)) {
    for (const [each, source] of sourcesOf(new URL(path, door))) sources.set(each, source);
  }
  return sources;
}

/** The compiler's modules give way to one file a door, one for the command, and what they share. */
async function joinModules() {
  const doors = Object.values(packageFile.exports).flatMap((target) => target.default ?? []);
  const entries = [...doors, ...Object.values(packageFile.bin)];
  const { outputFiles } = await build({
    absWorkingDir: fileURLToPath(root),
    entryPoints: entries,
    outbase: 'dist',
    outdir: 'dist',
    bundle: true,
    splitting: true,
    // A third less text is parsed in less time; names stay, so that a fault's trace can be read.
    minifyWhitespace: true,
    minifySyntax: true,
    write: false,
    platform: 'node',
    format: 'esm',
    target: 'node20',
    external: Object.keys(packageFile.dependencies),
    chunkNames: 'shared/[hash]',
    logLevel: 'warning',
  });
  for (const name of readdirSync(dist, { recursive: true, encoding: 'utf8' })) {
    // What the compiler remembers between builds is of no use to those who install the package either.
    if (/\.(js|tsbuildinfo)$/.test(name)) rmSync(new URL(name, dist));
  }
  mkdirSync(new URL('shared/', dist), { recursive: true });
  for (const { path, contents } of outputFiles) writeFileSync(path, contents);
}
