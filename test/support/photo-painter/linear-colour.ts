/** Linear light, red green blue, 1 = a perfect white under the neutral light. */
export type LinearRgb = readonly [number, number, number];

/** IEC 61966-2-1, encoded 0..1 to linear 0..1. */
const linearFromEncoded = (v: number): number => (v <= 0.04045 ? v / 12.92 : ((v + 0.055) / 1.055) ** 2.4);

/** IEC 61966-2-1, linear 0..1 to encoded 0..1. */
export const encodedFromLinear = (l: number): number =>
  l <= 0.0031308 ? 12.92 * l : 1.055 * l ** (1 / 2.4) - 0.055;

/** '#rrggbb' to linear light. */
export function linearFromHex(hex: string): LinearRgb {
  const channel = (at: number) => linearFromEncoded(Number.parseInt(hex.slice(at, at + 2), 16) / 255);
  return [channel(1), channel(3), channel(5)];
}

const TABLE_STEPS = 16384;

/** 8-bit levels, not yet rounded, of linear light 0..1: element i holds the level of i / (length - 1). */
export const encodedLevels: Float32Array = Float32Array.from(
  { length: TABLE_STEPS + 1 },
  (_, i) => 255 * encodedFromLinear(i / TABLE_STEPS),
);
