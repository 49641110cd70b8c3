import { existsSync, readFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import type { BandSpec, Scene } from '../../test/support/photo-painter/scene.js';
import { sceneOfBands } from './painted-scenes.js';

const FILE = fileURLToPath(new URL('../../../shared/data/setts.csv', import.meta.url));

/** The narrowest line is painted at least this wide; a repeat is no wider than fits the view twice. */
const NARROWEST_MM = 1.2;
const WIDEST_REPEAT_MM = 230;

/** Recorded tartan thread counts, each painted as a stripe; null when the list is not there. */
export function settScenes(): Scene[] | null {
  if (!existsSync(FILE)) return null;
  const [head, ...lines] = readFileSync(FILE, 'utf8').trim().split(/\r?\n/);
  const columns = head.split(',');
  return lines.map((line) => {
    const cells = line.split(',');
    const cell = (name: string) => cells[columns.indexOf(name)];
    const threads = unfold(cell('threadcount'), cell('symmetry') === 'reflective', palette(cell('colours')));
    const total = threads.reduce((sum, band) => sum + band.widthMm, 0);
    const narrowest = Math.min(...threads.map((band) => band.widthMm));
    const perThread = Math.min(Math.max(NARROWEST_MM / narrowest, 90 / total), WIDEST_REPEAT_MM / total);
    const label = cell('name')
      .toLowerCase()
      .replace(/[^a-z0-9]+/g, '-')
      .replace(/-$/, '');
    return sceneOfBands(
      'sett',
      label,
      threads.map((band) => ({ ...band, widthMm: band.widthMm * perThread })),
    );
  });
}

const palette = (cell: string): Map<string, string> =>
  new Map(cell.split(' ').map((pair) => pair.split('=') as [string, string]));

/**
 * One repeat in threads. A reflective count turns back at both ends, which are counted once; neighbours of one
 * colour, the last and the first among them, are one band.
 */
export function unfold(count: string, reflective: boolean, colours: Map<string, string>): BandSpec[] {
  const half = count.split(' ').map((token) => ({
    colour: (colours.get(token[0]) ?? '#808080').toLowerCase(),
    widthMm: Number.parseInt(token.replace(/\D/g, ''), 10),
  }));
  const full = reflective ? [...half, ...half.slice(1, -1).reverse()] : half;
  const joined: BandSpec[] = [];
  for (const band of full) {
    const last = joined.at(-1);
    if (last?.colour === band.colour)
      joined[joined.length - 1] = { ...last, widthMm: last.widthMm + band.widthMm };
    else joined.push(band);
  }
  const last = joined.at(-1);
  if (joined.length > 1 && last && last.colour === joined[0].colour) {
    joined[0] = { ...last, widthMm: last.widthMm + joined[0].widthMm };
    joined.pop();
  }
  return joined;
}
