import type { ModelSource } from './chevron-json.js';

/** Enough of a hash to tell two measurements apart by eye: 8 digits agree by chance once in four thousand million. */
const SHOWN_DIGITS = 8;

/** Which model a picture is of, to be printed on it: the photo by its name where one was measured, and the file's mark. */
export function modelWords({ file, sha256 }: ModelSource, photo: string | null): string {
  const mark = `${file} ${sha256.slice(0, SHOWN_DIGITS)}`;
  return photo === null ? mark : `the measurement of ${photo} (${mark})`;
}
