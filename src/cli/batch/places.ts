import { realpath } from 'node:fs/promises';
import { relative, resolve, sep } from 'node:path';
import { type BatchList, type ListedPhoto, sha256OfFile } from '../../node.js';
import { folderNames } from './folder-names.js';

/** A photo and where its results belong. */
export interface Place {
  /** The path as it was given. */
  readonly photo: string;
  /** The path seen from the folder of the index; the full path where there is none. */
  readonly from: string;
  /** Name of its folder beside the index. */
  readonly name: string;
}

export interface Places {
  readonly places: readonly Place[];
  /** Photos of earlier runs that are not among those given. */
  readonly others: readonly ListedPhoto[];
}

/**
 * Every photo once, whatever it is called by, with the name of its folder. A photo that an earlier run listed keeps the folder it
 * has; one that was moved or renamed since is known by its content.
 */
export async function placesOf(
  photos: readonly string[],
  folder: string | null,
  list: BatchList | null,
): Promise<Places> {
  const base = folder === null ? null : await realOf(folder);
  const once = new Map<string, string>();
  for (const photo of photos) {
    const file = await realOf(photo);
    if (!once.has(file)) once.set(file, photo);
  }
  const known = await knownPhotos([...once.keys()], base ?? '.', list?.photos ?? []);
  const taken = new Set(known.values());
  const others = (list?.photos ?? []).filter((one) => !taken.has(one));
  const names = folderNames(
    [...once.values()],
    [...once.keys()].map((file) => known.get(file)?.folder ?? null),
    others.map((one) => one.folder),
  );
  const places = [...once].map(([file, photo], k) => {
    const from = base === null ? file : relative(base, file).split(sep).join('/');
    return { photo, from, name: names[k] };
  });
  return { places, others };
}

/** Which listed photo each file is. */
async function knownPhotos(
  files: readonly string[],
  base: string,
  listed: readonly ListedPhoto[],
): Promise<Map<string, ListedPhoto>> {
  const known = new Map<string, ListedPhoto>();
  const wanted = new Set(files);
  const gone: ListedPhoto[] = [];
  for (const one of listed) {
    const place = resolve(base, one.from);
    const file = await realpath(place).catch(() => null);
    if (wanted.has(file ?? place)) known.set(file ?? place, one);
    else if (file === null && one.sha256 !== null) gone.push(one);
  }
  const unknown = gone.length === 0 ? [] : files.filter((file) => !known.has(file));
  for (const file of unknown) {
    const sha256 = await sha256OfFile(file).catch(() => null);
    const at = gone.findIndex((one) => one.sha256 === sha256);
    if (at >= 0) known.set(file, gone.splice(at, 1)[0]);
  }
  return known;
}

const realOf = (path: string): Promise<string> => realpath(path).catch(() => resolve(path));
