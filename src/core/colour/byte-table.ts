import { byteFromLinear } from './srgb.js';

/** Even steps of linear light in the table, fine enough for the darkest tones, where a byte is 1/3295. */
export const LINEAR_STEPS = 16384;

let table: Uint8Array | undefined;

/**
 * The encoded sRGB byte at each of LINEAR_STEPS + 1 even steps of linear light, one more for rounding: for pictures whose pixels are
 * all unlike. Made when first asked for: most runs have no use for it, and it takes as long as a stage of the measurement.
 */
export function byteTable(): Uint8Array {
  table ??= Uint8Array.from({ length: LINEAR_STEPS + 2 }, (_, k) => byteFromLinear(k / LINEAR_STEPS));
  return table;
}
