/** Keeps a mask's 1s whose whole (2 reach + 1) px square lies on 1s; beyond the frame counts as 1. Row by row, then column by column. */
export function erodeMask(mask: Uint8Array, width: number, height: number, reach: number): Uint8Array {
  const rows = new Uint8Array(mask.length);
  for (let y = 0; y < height; y++) erodeLine(mask, rows, y * width, 1, width, reach);
  const out = new Uint8Array(mask.length);
  for (let x = 0; x < width; x++) erodeLine(rows, out, x, width, height, reach);
  return out;
}

/** A 1 stays if the last 0 before it and the first 0 after it are both further than `reach`. */
function erodeLine(
  from: Uint8Array,
  to: Uint8Array,
  start: number,
  stride: number,
  count: number,
  reach: number,
): void {
  let sinceHole = reach + 1;
  for (let k = 0, i = start; k < count; k++, i += stride) {
    sinceHole = from[i] ? sinceHole + 1 : 0;
    to[i] = sinceHole > reach ? 1 : 0;
  }
  sinceHole = reach + 1;
  for (let k = count - 1, i = start + (count - 1) * stride; k >= 0; k--, i -= stride) {
    sinceHole = from[i] ? sinceHole + 1 : 0;
    if (sinceHole <= reach) to[i] = 0;
  }
}
