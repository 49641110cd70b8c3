import { createHash } from 'node:crypto';

/** Names that the index takes: a folder cannot stand in their place. */
const TAKEN = /^index(-\d+-of-\d+)?\.(csv|html|json)$/i;

/** Characters that some system or shell will not have in a name, controls among them. */
// biome-ignore lint/suspicious/noControlCharactersInRegex: controls are what is looked for.
const AWKWARD = /[\u0000-\u001f\u007f"*/:<>?\\|]/g;

/**
 * A folder name for each photo, all different whatever the case of their letters: the photo's name; where photos share it, with as
 * many of its folders before it as tell them apart; where that does not help, with its ending. It depends on the paths
 * alone, so every run and every shard gives a photo the same folder.
 *
 * @param known the names that photos have already, null for those that have none
 * @param reserved names of other photos, which none of these may take
 */
export function folderNames(
  photos: readonly string[],
  known: readonly (string | null)[] = [],
  reserved: readonly string[] = [],
): string[] {
  const choices = photos.map((photo, k) => {
    const name = known[k] ?? null;
    return name === null ? nameChoices(photo) : [name];
  });
  const level = photos.map(() => 0);
  const chosen = (): string[] => choices.map((names, k) => names[level[k]]);
  for (;;) {
    const names = chosen();
    const uses = new Map<string, number>();
    for (const name of [...names, ...reserved])
      uses.set(name.toLowerCase(), (uses.get(name.toLowerCase()) ?? 0) + 1);
    const clashing = names.flatMap((name, k) =>
      (uses.get(name.toLowerCase()) ?? 0) > 1 || TAKEN.test(name) ? [k] : [],
    );
    const movable = clashing.filter((k) => level[k] < choices[k].length - 1);
    if (movable.length === 0) return names;
    for (const k of movable) level[k]++;
  }
}

/** From the shortest to one that no other path has. */
function nameChoices(photo: string): string[] {
  const parts = photo.split(/[\\/]/).filter((part) => part !== '' && part !== '.' && part !== '..');
  const file = parts.at(-1) ?? 'photo';
  const stem = file.replace(/(?<=.)\.[^.]*$/s, '');
  const folders = parts.slice(0, -1);
  const after = (name: string): string[] =>
    folders.map((_, k) => [...folders.slice(folders.length - 1 - k), name].join('-'));
  const mark = createHash('sha256').update(photo).digest('hex').slice(0, 8);
  return [stem, ...after(stem), file, ...after(file), `${stem}-${mark}`].map(portable);
}

/** Neither hidden nor ending in what some system drops; no longer than any system takes with an ending to spare. */
const portable = (name: string): string =>
  name
    .replace(AWKWARD, '_')
    .replace(/^[.\s]+/, '_')
    .replace(/[.\s]+$/, '_')
    .slice(-200) || 'photo';
