import { readFileSync } from 'node:fs';

/** Rows of a table in test/truth: lines that start with "#" tell its source and are passed over. */
export function readTruthRows(file: string): string[][] {
  const text = readFileSync(new URL(`../truth/${file}`, import.meta.url), 'utf8');
  return text
    .split(/\r?\n/)
    .filter((line) => line !== '' && !line.startsWith('#'))
    .map((line) => line.split(','));
}
