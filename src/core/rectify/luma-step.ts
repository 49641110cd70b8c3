import { encodedFromLinear } from '../colour/srgb.js';
import type { LinearColour } from './bare-edge.js';

/**
 * How far a place is from one band's colour to the other's, 0 to 1 in linear light, told from its luma alone. JPEG keeps luma at full
 * size and colour at half (4:2:0, as phones write): in linear light the blurred colour draws an edge towards the brighter band,
 * by a fifth of a pixel where both are strong. Luma shows where the edge truly is.
 */
export interface LumaStep {
  /** Luma (0..1) at even steps from the first colour to the second, rising or falling throughout. */
  readonly lumas: Float64Array;
}

const STEPS = 32;
/** Luma of the two bands must differ by so much, of 255, and never run back on the way. */
const LEAST_CONTRAST = 16 / 255;

const ENCODED_STEPS = 4096;
let encoded: Float64Array | undefined;

/** Luma as JPEG counts it (ITU-R BT.601-7: 0.299, 0.587, 0.114 of encoded values), 0..1. */
function lumaOfLinear(red: number, green: number, blue: number): number {
  encoded ??= encodedTable();
  return (
    0.299 * encodedAt(encoded, red) + 0.587 * encodedAt(encoded, green) + 0.114 * encodedAt(encoded, blue)
  );
}

const encodedTable = (): Float64Array =>
  Float64Array.from({ length: ENCODED_STEPS + 2 }, (_, k) => encodedFromLinear(k / ENCODED_STEPS));

function encodedAt(table: Float64Array, linear: number): number {
  const at = ENCODED_STEPS * (linear < 0 ? 0 : linear > 1 ? 1 : linear);
  const k = at | 0;
  return table[k] + (at - k) * (table[k + 1] - table[k]);
}

/** Null where luma does not tell the two colours apart. */
export function lumaStep([first, second]: readonly [LinearColour, LinearColour]): LumaStep | null {
  const lumas = Float64Array.from({ length: STEPS + 1 }, (_, k) => {
    const [r, g, b] = [0, 1, 2].map((c) => first[c] + (k / STEPS) * (second[c] - first[c]));
    return lumaOfLinear(r, g, b);
  });
  const way = Math.sign(lumas[STEPS] - lumas[0]);
  if (Math.abs(lumas[STEPS] - lumas[0]) < LEAST_CONTRAST) return null;
  for (let k = 0; k < STEPS; k++) if (way * (lumas[k + 1] - lumas[k]) <= 0) return null;
  return { lumas };
}

/**
 * Fills `out` with the share of the second colour at each of n places of given linear colour. `gain`: brightness of the place over
 * that of the two bands, linear; encoded values are near a power of 1/2.2.
 */
export function sharesByLuma(
  { lumas }: LumaStep,
  [red, green, blue]: readonly [Float64Array, Float64Array, Float64Array],
  n: number,
  gain: number,
  out: Float64Array,
): void {
  const scale = gain > 0 ? gain ** (-1 / 2.2) : 1;
  const rises = lumas[STEPS] > lumas[0];
  const contrast = lumas[STEPS] - lumas[0];
  for (let i = 0; i < n; i++) {
    const luma = scale * lumaOfLinear(red[i], green[i], blue[i]);
    let low = 0;
    let high = STEPS;
    while (high - low > 1) {
      const middle = (low + high) >> 1;
      if (luma > lumas[middle] === rises) low = middle;
      else high = middle;
    }
    // Beyond either colour it is carried on as on the average: where luma hardly grows at the end, little light would make much of a share.
    const before = (luma - lumas[0]) / contrast;
    const after = (luma - lumas[STEPS]) / contrast;
    out[i] =
      before < 0
        ? before
        : after > 0
          ? 1 + after
          : (low + (luma - lumas[low]) / (lumas[high] - lumas[low])) / STEPS;
  }
}

/**
 * Where luma does not tell two colours apart, what is left is colour at half size, which JPEG averaged as encoded, while the lens blurs in linear
 * light. Shares on the line between the two colours as encoded, weighing `weight`, are mixed into those in `out` told in linear light.
 */
export function mixInEncoded(
  [a, b]: readonly [LinearColour, LinearColour],
  [red, green, blue]: readonly [Float64Array, Float64Array, Float64Array],
  n: number,
  gain: number,
  weight: number,
  out: Float64Array,
): void {
  encoded ??= encodedTable();
  const table = encoded;
  const first = a.map((v) => encodedAt(table, v));
  const axis = b.map((v, c) => encodedAt(table, v) - first[c]);
  const size = Math.max(1e-9, axis[0] ** 2 + axis[1] ** 2 + axis[2] ** 2);
  const scale = gain > 0 ? gain ** (-1 / 2.2) : 1;
  for (let i = 0; i < n; i++) {
    const share =
      (axis[0] * (scale * encodedAt(table, red[i]) - first[0]) +
        axis[1] * (scale * encodedAt(table, green[i]) - first[1]) +
        axis[2] * (scale * encodedAt(table, blue[i]) - first[2])) /
      size;
    out[i] += weight * (share - out[i]);
  }
}

/**
 * Part of the blur's variance that halving colour and enlarging it again makes, by a box and a triangle two px wide either way: 1 px squared
 * in all. What luma shows is the lens's blur; without it what is seen is both.
 */
export function encodedPart(blurPx: number, lumas: readonly (LumaStep | null)[]): number {
  const byLens = lumas.some((luma) => luma !== null) ? blurPx ** 2 : Math.max(0, blurPx ** 2 - 1);
  return 1 / (1 + byLens);
}

/** How far a colour is from the first side of an edge to the second, 0 to 1 between them: by luma, or without on the line through both. */
export function shareOfColour(
  colour: LinearColour,
  [a, b]: readonly [LinearColour, LinearColour],
  byLuma: LumaStep | null,
): number {
  if (byLuma === null) {
    const size = a.reduce((sum, v, c) => sum + (b[c] - v) ** 2, 0);
    return a.reduce((sum, v, c) => sum + (b[c] - v) * (colour[c] - v), 0) / Math.max(1e-9, size);
  }
  const out = new Float64Array(1);
  const [red, green, blue] = colour;
  sharesByLuma(byLuma, [Float64Array.of(red), Float64Array.of(green), Float64Array.of(blue)], 1, 1, out);
  return out[0];
}
