/**
 * Lays pixels with alpha over opaque ones: of `count` pixels from pixel `from` on, `over` (RGBA, straight alpha) over `ground`
 * (RGB), which is changed. Encoded values are mixed, as browsers and drawing programs do.
 */
export function layOver(ground: Uint8Array, over: Uint8Array, from: number, count: number): void {
  for (let p = from, end = from + count; p < end; p++) {
    const o = 4 * p;
    const alpha = over[o + 3];
    // Most of a drawing is empty.
    if (alpha === 0) continue;
    const g = 3 * p;
    const rest = 255 - alpha;
    ground[g] = (over[o] * alpha + ground[g] * rest + 127) / 255;
    ground[g + 1] = (over[o + 1] * alpha + ground[g + 1] * rest + 127) / 255;
    ground[g + 2] = (over[o + 2] * alpha + ground[g + 2] * rest + 127) / 255;
  }
}
