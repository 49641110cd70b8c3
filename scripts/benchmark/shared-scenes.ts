import { existsSync, readdirSync, readFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import type { BenchPhoto } from './photo-cache.js';

const FOLDER = fileURLToPath(new URL('../../../shared/scenes/', import.meta.url));

/** Photos with exact truth kept outside the project; null when they are not there. */
export function sharedScenes(): BenchPhoto[] | null {
  if (!existsSync(FOLDER)) return null;
  return readdirSync(FOLDER)
    .filter((file) => file.endsWith('.truth.json'))
    .sort()
    .map((file) => ({
      photo: FOLDER + file.replace('.truth.json', '.jpg'),
      truth: JSON.parse(readFileSync(FOLDER + file, 'utf8')),
    }));
}
