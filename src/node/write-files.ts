import { chmod, mkdir, mkdtemp, rename, rm, stat, writeFile } from 'node:fs/promises';
import { basename, dirname, join, resolve } from 'node:path';

/** One file of a result: its name within the folder and its content. */
export interface ResultFile {
  readonly name: string;
  readonly content: Uint8Array | string;
}

/**
 * Writes a result whole or not at all: everything goes to a temporary folder beside the target first. A new
 * folder then appears under its name at once. In a folder that exists, files of the same names are replaced
 * one by one, in the order given, so the last one tells that the rest is there; other files stay. `stale`
 * names files of an earlier result that this one no longer has: removed at the end.
 */
export async function writeFiles(
  folder: string,
  files: readonly ResultFile[],
  stale: readonly string[] = [],
): Promise<void> {
  const target = resolve(folder);
  await mkdir(dirname(target), { recursive: true });
  const draft = await mkdtemp(join(dirname(target), `.${basename(target)}-`));
  try {
    // A temporary folder is private; the result is as open as any other folder.
    await chmod(draft, 0o755);
    await Promise.all(files.map((file) => writeFile(join(draft, file.name), file.content)));
    if (!(await exists(target))) {
      await rename(draft, target);
      return;
    }
    for (const file of files) await rename(join(draft, file.name), join(target, file.name));
    const kept = new Set(files.map((file) => file.name));
    const gone = stale.filter((name) => !kept.has(name) && basename(name) === name);
    await Promise.all(gone.map((name) => rm(join(target, name), { force: true })));
  } finally {
    await rm(draft, { recursive: true, force: true });
  }
}

const exists = (path: string): Promise<boolean> =>
  stat(path).then(
    () => true,
    () => false,
  );
