import { createHash } from 'node:crypto';
import { formatBandModel, typedCloth } from '../index.js';
import type { ModelFile } from './read-model.js';

/** Name of the file that a cloth typed in one line is kept in, beside what was drawn from it. */
export const TYPED_MODEL_FILE = 'typed-cloth.json';

/** A model that has no file yet, with the text of the one it is to be kept in. */
export interface TypedModelFile extends ModelFile {
  readonly text: string;
}

/**
 * The cloth typed in one line as the model that its file will hold, to be written to the folder of the results.
 * Throws UsageError (parameter `cloth`) with the part that is wrong, see typedCloth.
 */
export function typedModelFile(cloth: string): TypedModelFile {
  const model = typedCloth(cloth);
  const text = formatBandModel(model);
  const sha256 = createHash('sha256').update(text).digest('hex');
  return { model, text, sha256, file: TYPED_MODEL_FILE, folder: '.' };
}
