import { readFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { paintedScenes } from '../benchmark/painted-scenes.js';
import { withFigures } from './marked-text.js';
import type { PaintedFigures } from './painted-figures.js';
import { accuracyText } from './readme-figures.js';

const at = (path: string): string => fileURLToPath(new URL(`../../${path}`, import.meta.url));

export const README = at('README.md');
export const KEPT_FIGURES = at('scripts/benchmark/figures.json');

/** README as it is, and as it is to be by the figures that were kept. */
export function currentReadme(): { readonly is: string; readonly should: string } {
  const is = readFileSync(README, 'utf8');
  const { painted } = JSON.parse(readFileSync(KEPT_FIGURES, 'utf8')) as { painted: PaintedFigures };
  return { is, should: withFigures(is, { accuracy: accuracyText(paintedScenes(), painted) }) };
}
