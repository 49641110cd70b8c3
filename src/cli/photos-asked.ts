import { existsSync, statSync } from 'node:fs';
import { readdir } from 'node:fs/promises';
import { extname, join, sep } from 'node:path';
import { CHEVRON_FILE, CHEVRON_RECORD, MEASUREMENT_FILES } from '../node.js';

/** Endings of what can be read, as cameras, phones and scanners write them. */
const ENDINGS = ['.jpg', '.jpeg', '.png', '.webp', '.tif', '.tiff', '.avif', '.heic', '.heif', '.hif'];

/** What was asked for: photos, folders of them, and patterns that the shell left as they were. */
export interface PhotosAsked {
  readonly photos: readonly string[];
  /** Whether photos were asked for by their folder: then even one is treated as many are. */
  readonly byFolder: boolean;
  /** Names that hold no photo: a folder without any, a pattern that fits none. */
  readonly empty: readonly string[];
}

/**
 * Every photo that the words name, in their order. A word that is a file stands for itself, whatever is in its name; a folder for the
 * photos in it, by their endings, not in folders inside it; a pattern (* ? [a-z]) for the files that fit it, whatever the case
 * of their letters. Pictures that this program made are no photos. A word that is nothing of these stands for itself, too.
 */
export async function photosAsked(words: readonly string[]): Promise<PhotosAsked> {
  const photos: string[] = [];
  const empty: string[] = [];
  let byFolder = false;
  for (const word of words) {
    const facts = statSync(word, { throwIfNoEntry: false });
    const isFolder = facts?.isDirectory() === true;
    const isPattern = facts === undefined && /[*?[]/.test(word);
    const found = isFolder ? await photosIn(word) : isPattern ? await filesFitting(word) : [word];
    if (isFolder) byFolder = true;
    if (found.length === 0) empty.push(word);
    photos.push(...found);
  }
  return { photos, byFolder, empty };
}

async function photosIn(folder: string): Promise<string[]> {
  const names = await filesIn(folder);
  return names
    .filter((name) => ENDINGS.includes(extname(name).toLowerCase()))
    .map((name) => join(folder, name));
}

/** Names of the files in a folder, sorted; without hidden ones and pictures that a result of this program put there. */
async function filesIn(folder: string): Promise<string[]> {
  const entries = await readdir(folder, { withFileTypes: true }).catch(() => []);
  const isResult = existsSync(join(folder, 'bands.json'));
  const isChevron = existsSync(join(folder, CHEVRON_RECORD));
  const isOurs = (name: string): boolean =>
    (isResult && MEASUREMENT_FILES.some((one) => one === name)) || (isChevron && CHEVRON_FILE.test(name));
  return entries
    .filter((entry) => !entry.isDirectory() && !entry.name.startsWith('.') && !isOurs(entry.name))
    .map((entry) => entry.name)
    .sort();
}

/** Part by part, so that a pattern may stand for folders as well. */
async function filesFitting(pattern: string): Promise<string[]> {
  const parts = pattern.split(sep === '\\' ? /[\\/]/ : '/');
  let places = [''];
  for (const [k, part] of parts.entries()) {
    const isLast = k === parts.length - 1;
    const next: string[] = [];
    for (const place of places) {
      // An absolute path begins with an empty part.
      if (!/[*?[]/.test(part)) next.push(k === 0 ? part || sep : join(place, part));
      else {
        const fits = fitting(part);
        const here = place === '' ? '.' : place;
        const names = isLast ? await filesIn(here) : await foldersIn(here);
        next.push(...names.filter((name) => fits.test(name)).map((name) => join(place, name)));
      }
    }
    places = next.filter((place) => existsSync(place));
  }
  return places;
}

async function foldersIn(folder: string): Promise<string[]> {
  const entries = await readdir(folder, { withFileTypes: true }).catch(() => []);
  return entries
    .filter((entry) => entry.isDirectory() && !entry.name.startsWith('.'))
    .map((entry) => entry.name)
    .sort();
}

/** Shell patterns as POSIX.1-2017 has them (XCU 2.13), but for classes by name; letters of either case. */
function fitting(part: string): RegExp {
  const source = part.replace(
    /\[([!^]?)(\]?[^\]]*)\]|[\s\S]/g,
    (mark, not: string | undefined, set: string) => {
      if (set !== undefined) return `[${not ? '^' : ''}${set.replace(/[\\\]^[]/g, '\\$&')}]`;
      if (mark === '*') return '.*';
      if (mark === '?') return '.';
      return mark.replace(/[.*+?^${}()|[\]\\]/g, '\\$&');
    },
  );
  try {
    return new RegExp(`^${source}$`, 'isu');
  } catch {
    // Such as [z-a], which no name fits.
    return /(?!)/;
  }
}
