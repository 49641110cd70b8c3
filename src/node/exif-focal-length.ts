const EXIF_POINTER = 0x8769;
const FOCAL_LENGTH_IN_35MM_FILM = 0xa405;
const SHORT = 3;
const LONG = 4;

/**
 * The 35 mm-equivalent focal length in mm, or null when the block holds none, holds 0 (which means unknown) or cannot be
 * followed. Both byte orders; a leading "Exif" mark or HEIF offset is skipped.
 *
 * Source: Exif 2.32 (CIPA DC-008), tag 41989 in the Exif directory, which tag 34665 of the first directory points to.
 */
export function focalLengthFromExif(exif: Uint8Array): number | null {
  const start = tiffStart(exif);
  if (start === null) return null;
  const view = new DataView(exif.buffer, exif.byteOffset + start, exif.byteLength - start);
  const little = view.getUint8(0) === 0x49;
  const first = view.byteLength < 8 ? null : view.getUint32(4, little);
  const pointer = first === null ? null : tagValue(view, first, EXIF_POINTER, little);
  const focal = pointer === null ? null : tagValue(view, pointer, FOCAL_LENGTH_IN_35MM_FILM, little);
  return focal === null || focal === 0 ? null : focal;
}

/** Where "II*\0" or "MM\0*" stands within the first bytes. */
function tiffStart(exif: Uint8Array): number | null {
  for (let at = 0; at <= 10 && at + 4 <= exif.length; at++) {
    const mark = String.fromCharCode(exif[at], exif[at + 1], exif[at + 2], exif[at + 3]);
    if (mark === 'II*\0' || mark === 'MM\0*') return at;
  }
  return null;
}

/** First value of a SHORT or LONG tag in the directory at `offset`, or null. */
function tagValue(view: DataView, offset: number, tag: number, little: boolean): number | null {
  if (offset + 2 > view.byteLength) return null;
  const count = view.getUint16(offset, little);
  for (let k = 0; k < count; k++) {
    const entry = offset + 2 + 12 * k;
    if (entry + 12 > view.byteLength) return null;
    if (view.getUint16(entry, little) !== tag) continue;
    const type = view.getUint16(entry + 2, little);
    if (type === SHORT) return view.getUint16(entry + 8, little);
    return type === LONG ? view.getUint32(entry + 8, little) : null;
  }
  return null;
}
