import { hexFromRgb8, linearFromRgb8, rgb8FromHex, rgb8FromLinear } from '../colour/srgb.js';

/** Colour where two yarns of a woven check cross: half of each, in linear light. "#rrggbb". */
export function mixedHex(a: string, b: string): string {
  const other = linearFromRgb8(rgb8FromHex(b));
  const [r, g, bl] = linearFromRgb8(rgb8FromHex(a)).map((value, c) => (value + other[c]) / 2);
  return hexFromRgb8(rgb8FromLinear([r, g, bl]));
}
