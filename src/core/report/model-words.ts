import { checkAll, orNull, text } from '../base/expectation.js';
import { MODEL_SOURCE, type ModelSource } from './chevron-json.js';

/** Enough of a hash to tell two measurements apart by eye: 8 digits agree by chance once in four thousand million. */
const SHOWN_DIGITS = 8;

/** Which model a picture is of, to be printed on it: the photo by its name where one was measured, and the file's mark. */
export function modelWords(model: ModelSource, photo: string | null): string {
  checkAll({ model: [model, MODEL_SOURCE], photo: [photo, orNull(text)] });
  const { file, sha256 } = model;
  const mark = `${file} ${sha256.slice(0, SHOWN_DIGITS)}`;
  return photo === null ? mark : `the measurement of ${photo} (${mark})`;
}
