export type LinearColour = readonly [number, number, number];

/** In a single row: a sample this far off the line between the bands, in steps, is neither; and the part of the row that may be. */
const OFF_SAMPLE = 0.2;
const OFF_SHARE = 0.08;

/** How far the step from one side to the other leaves the line between the bands' colours, as a part of its height on it. */
export function offLine(
  low: Float64Array,
  high: Float64Array,
  [a, b]: readonly [LinearColour, LinearColour],
): number {
  let dot = 0;
  let size = 0;
  let square = 0;
  for (let c = 0; c < 3; c++) {
    const axis = b[c] - a[c];
    dot += (high[c] - low[c]) * axis;
    size += axis * axis;
    square += (high[c] - low[c]) ** 2;
  }
  const onLine = (dot * dot) / size;
  return dot <= 0 ? Infinity : Math.sqrt(Math.max(0, square - onLine) / onLine);
}

/**
 * How far two sides of an edge are from its two bands, as a part of the step between those: light may scale both alike, the
 * crossing stripes of a check may add to both alike.
 */
export function strangeness(
  low: Float64Array,
  high: Float64Array,
  [a, b]: readonly [LinearColour, LinearColour],
): number {
  let product = 0;
  let square = 0;
  let step = 0;
  let lifted = 0;
  for (let c = 0; c < 3; c++) {
    product += low[c] * a[c] + high[c] * b[c];
    square += a[c] * a[c] + b[c] * b[c];
    step += (b[c] - a[c]) ** 2;
    lifted += (high[c] - b[c] - low[c] + a[c]) ** 2 / 2;
  }
  const gain = product / square;
  let scaled = 0;
  for (let c = 0; c < 3; c++) scaled += (low[c] - gain * a[c]) ** 2 + (high[c] - gain * b[c]) ** 2;
  return Math.sqrt(Math.min(scaled / (gain * gain), lifted) / step);
}

/** Whether a row across the edge shows its two bands and their blend, and hardly anything else. */
export function isBareRow(
  row: readonly [Float64Array, Float64Array, Float64Array],
  n: number,
  [a, b]: readonly [LinearColour, LinearColour],
): boolean {
  const end = Math.max(1, n >> 3);
  // Light scales both ends alike; where a motif lies on one of them the row falls off the line at the other.
  let gain = 0;
  for (const [from, colour] of [
    [0, a],
    [n - end, b],
  ] as const) {
    let product = 0;
    for (let c = 0; c < 3; c++)
      for (let i = from; i < from + end; i++) product += (row[c][i] * colour[c]) / end;
    gain = Math.max(gain, product / (colour[0] ** 2 + colour[1] ** 2 + colour[2] ** 2));
  }
  const axis = [0, 1, 2].map((c) => gain * (b[c] - a[c]));
  const step = axis[0] ** 2 + axis[1] ** 2 + axis[2] ** 2;
  let off = 0;
  for (let i = 0; i < n; i++) {
    const p = row[0][i] - gain * a[0];
    const q = row[1][i] - gain * a[1];
    const r = row[2][i] - gain * a[2];
    const t = Math.max(0, Math.min(1, (p * axis[0] + q * axis[1] + r * axis[2]) / step));
    if ((p - t * axis[0]) ** 2 + (q - t * axis[1]) ** 2 + (r - t * axis[2]) ** 2 > OFF_SAMPLE ** 2 * step)
      off++;
  }
  return off <= OFF_SHARE * n;
}

/** Mean colour of the places from..to of a profile, written to `out`. */
export function meanColour(
  channels: readonly [Float64Array, Float64Array, Float64Array],
  from: number,
  to: number,
  out: Float64Array,
): Float64Array {
  for (let c = 0; c < 3; c++) {
    let sum = 0;
    for (let i = from; i < to; i++) sum += channels[c][i];
    out[c] = sum / (to - from);
  }
  return out;
}
