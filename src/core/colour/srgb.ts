/** Encoded sRGB, 8 bits a channel: [red, green, blue], each 0..255. */
export type Rgb8 = readonly [number, number, number];
/** Linear-light sRGB, 0..1 inside the gamut. */
export type LinearRgb = readonly [number, number, number];

/**
 * Linear light of an encoded sRGB value, 0..1. Values outside are mirrored about zero, as in the extended
 * range. Source: IEC 61966-2-1; the two pieces meet within 3e-8, not exactly.
 */
export function linearFromEncoded(encoded: number): number {
  const v = Math.abs(encoded);
  const linear = v <= 0.04045 ? v / 12.92 : ((v + 0.055) / 1.055) ** 2.4;
  return encoded < 0 ? -linear : linear;
}

/** Inverse of linearFromEncoded. */
export function encodedFromLinear(linear: number): number {
  const l = Math.abs(linear);
  const encoded = l <= 0.0031308 ? 12.92 * l : 1.055 * l ** (1 / 2.4) - 0.055;
  return linear < 0 ? -encoded : encoded;
}

/** Linear light of each 8-bit encoded value: read-only, for pixel loops. */
export const linearFromByte: Float64Array = Float64Array.from({ length: 256 }, (_, i) =>
  linearFromEncoded(i / 255),
);

/** Nearest 8-bit encoded value, clipped to 0..255. */
export function byteFromLinear(linear: number): number {
  const byte = Math.round(255 * encodedFromLinear(linear));
  return byte > 0 ? Math.min(byte, 255) : 0;
}

export const linearFromRgb8 = (rgb: Rgb8): LinearRgb => [
  linearFromByte[rgb[0]],
  linearFromByte[rgb[1]],
  linearFromByte[rgb[2]],
];

export const rgb8FromLinear = (linear: LinearRgb): Rgb8 => [
  byteFromLinear(linear[0]),
  byteFromLinear(linear[1]),
  byteFromLinear(linear[2]),
];

/** "#rrggbb", lower case. Each channel is rounded; throws RangeError outside 0..255. */
export function hexFromRgb8(rgb: Rgb8): string {
  const hex = rgb.map((channel) => {
    const byte = Math.round(channel);
    if (!(byte >= 0 && byte <= 255)) {
      throw new RangeError(`colour channel: expected 0 to 255, received ${channel}`);
    }
    return byte.toString(16).padStart(2, '0');
  });
  return `#${hex.join('')}`;
}

/** Inverse of hexFromRgb8; throws RangeError for anything but "#" and six hexadecimal digits. */
export function rgb8FromHex(hex: string): Rgb8 {
  if (!/^#[0-9a-f]{6}$/i.test(hex)) throw new RangeError(`colour: expected "#rrggbb", received "${hex}"`);
  const bits = Number.parseInt(hex.slice(1), 16);
  return [bits >> 16, (bits >> 8) & 255, bits & 255];
}
