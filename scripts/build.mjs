// Builds the package into dist: first the core alone, with neither Node nor DOM types, then the doors and the command.
import { execFileSync } from 'node:child_process';
import { chmodSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import { fileURLToPath } from 'node:url';

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
// What the compiler remembers between builds is of no use to those who install the package.
for (const folder of ['', 'core/']) rmSync(new URL(`${folder}tsconfig.tsbuildinfo`, dist), { force: true });

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

for (const command of Object.values(packageFile.bin)) chmodSync(new URL(command, root), 0o755);
