import { execFileSync } from 'node:child_process';
import { writeFileSync } from 'node:fs';
import { availableParallelism } from 'node:os';
import type { Row } from '../benchmark/table.js';
import { KEPT_FIGURES } from './current-readme.js';
import { paintedFigures } from './painted-figures.js';

/** Keeps what a run over all painted scenes gave, for README. */
export function keepFigures(rows: readonly Row[]): void {
  const date = new Date().toISOString().slice(0, 10);
  const painted = paintedFigures(rows, { tree: currentTree(), date, cores: availableParallelism() });
  if (painted === null) throw new RangeError('nothing was measured: there are no figures to keep');
  writeFileSync(KEPT_FIGURES, `${JSON.stringify({ painted }, null, 2)}\n`);
  console.log(
    '\nKept in scripts/benchmark/figures.json; "scripts/refresh-readme --figures" writes them to README.md.',
  );
}

/** What git calls the files as they were committed last, and "+" where they have been changed since. */
function currentTree(): string {
  const git = (...words: string[]): string => execFileSync('git', words, { encoding: 'utf8' }).trim();
  const changed = git('status', '--porcelain', '--untracked-files=no') !== '';
  return `${git('rev-parse', 'HEAD^{tree}')}${changed ? '+' : ''}`;
}
