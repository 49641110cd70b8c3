/**
 * Wraps 8-bit RGB pixels and an ICC profile in the plainest of TIFF files, in memory. sharp takes a colour profile only from
 * a file it reads, so this is how pixels that another decoder made reach its colour conversion.
 *
 * Source: TIFF 6.0 (baseline, one strip); tag 34675 of the ICC specification, annex B.4.
 */
export function tiffWithProfile(
  rgb: Uint8Array,
  widthPx: number,
  heightPx: number,
  icc: Uint8Array,
): Uint8Array {
  const entries: readonly (readonly [
    tag: number,
    type: number,
    count: number,
    value: (at: Places) => number,
  ])[] = [
    [256, LONG, 1, () => widthPx],
    [257, LONG, 1, () => heightPx],
    [258, SHORT, 3, (at) => at.bits],
    [259, SHORT, 1, () => 1], // not compressed
    [262, SHORT, 1, () => 2], // RGB
    [273, LONG, 1, (at) => at.pixels],
    [277, SHORT, 1, () => 3],
    [278, LONG, 1, () => heightPx],
    [279, LONG, 1, () => rgb.length],
    [34675, UNDEFINED, icc.length, (at) => at.icc],
  ];
  const bits = 8 + 2 + 12 * entries.length + 4;
  const places: Places = { bits, icc: bits + 6, pixels: bits + 6 + icc.length + (icc.length % 2) };
  const file = new Uint8Array(places.pixels + rgb.length);
  const view = new DataView(file.buffer);
  file.set([0x49, 0x49, 42, 0]);
  view.setUint32(4, 8, true);
  view.setUint16(8, entries.length, true);
  entries.forEach(([tag, type, count, value], k) => {
    const entry = 10 + 12 * k;
    view.setUint16(entry, tag, true);
    view.setUint16(entry + 2, type, true);
    view.setUint32(entry + 4, count, true);
    // Little-endian, so a SHORT written as a LONG lands in the right two bytes.
    view.setUint32(entry + 8, value(places), true);
  });
  for (let c = 0; c < 3; c++) view.setUint16(bits + 2 * c, 8, true);
  file.set(icc, places.icc);
  file.set(rgb, places.pixels);
  return file;
}

interface Places {
  readonly bits: number;
  readonly icc: number;
  readonly pixels: number;
}

const SHORT = 3;
const LONG = 4;
const UNDEFINED = 7;
