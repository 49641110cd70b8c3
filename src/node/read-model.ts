import { createHash } from 'node:crypto';
import { readFile, stat } from 'node:fs/promises';
import { basename, dirname, join } from 'node:path';
import { check, text } from '../core/base/expectation.js';
import { type BandModel, type Outcome, parseBandModel, refuse, succeed } from '../index.js';

/** A band model and where it came from. */
export interface ModelFile {
  readonly model: BandModel;
  /** Name of the file, without its folder. */
  readonly file: string;
  readonly folder: string;
  /** Of the file's bytes, lower-case hex. */
  readonly sha256: string;
}

const NAME = 'bands.json';

/** Reads a band model from its file, or from the folder that holds a bands.json. Never throws for a bad file. */
export async function readModel(path: string): Promise<Outcome<ModelFile>> {
  check(path, 'path', text);
  const isFolder = await stat(path).then(
    (facts) => facts.isDirectory(),
    () => false,
  );
  const target = isFolder ? join(path, NAME) : path;
  let bytes: Buffer;
  try {
    bytes = await readFile(target);
  } catch (error) {
    const missing = (error as NodeJS.ErrnoException).code === 'ENOENT';
    return refuse(
      'unreadable',
      missing
        ? `${isFolder ? `${path} holds no ${NAME}` : `There is no file ${path}`}`
        : `${target} cannot be read`,
      `give a ${NAME}, or the folder a measurement was written to`,
    );
  }
  const outcome = await parseBandModel(bytes.toString('utf8'));
  if (!outcome.ok) {
    const { refusal } = outcome;
    return refuse('unreadable', `${basename(target)}: ${refusal.found}`, refusal.remedy);
  }
  const sha256 = createHash('sha256').update(bytes).digest('hex');
  return succeed({ model: outcome.value, file: basename(target), folder: dirname(target), sha256 });
}
