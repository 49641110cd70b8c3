// Writes what the fields of the band model mean, for its published schema, from the doc comments of its types: one text for both.
// npx tsx scripts/describe-model.ts
import { execFileSync } from 'node:child_process';
import { readFileSync, writeFileSync } from 'node:fs';
import { fieldDocs } from '../test/support/field-docs.js';

const FOLDER = 'src/core/model';
const FILE = `${FOLDER}/band-model-descriptions.ts`;

const docs = fieldDocs(readFileSync(`${FOLDER}/band-model.ts`, 'utf8'));
writeFileSync(
  FILE,
  `import type { Descriptions } from '../base/described.js';

/** Written by scripts/describe-model.ts from the doc comments in band-model.ts: change them there. */
export const BAND_MODEL_DESCRIPTIONS: Descriptions = ${JSON.stringify(docs)};
`,
);
execFileSync('npx', ['biome', 'check', '--write', FILE], { stdio: 'inherit' });
