import { bytes, checkAll, wholeNumber } from '../base/expectation.js';
import { UsageError } from '../base/outcome.js';

const PLACE = wholeNumber({ least: 0 });

/**
 * Lays pixels with alpha over opaque ones: of `count` pixels from pixel `from` on, `over` (RGBA, straight alpha) over `ground`
 * (RGB), which is changed. Encoded values are mixed, as browsers and drawing programs do.
 */
export function layOver(ground: Uint8Array, over: Uint8Array, from: number, count: number): void {
  checkAll({
    ground: [ground, bytes],
    over: [over, bytes],
    from: [from, PLACE],
    count: [count, PLACE],
  });
  if (ground.length < 3 * (from + count) || over.length < 4 * (from + count)) {
    throw new UsageError(
      `expected pixels that both pictures have, up to ${Math.min(ground.length / 3, over.length / 4) | 0}, received ${from + count}`,
      'count',
    );
  }
  for (let o = 4 * from, g = 3 * from, end = o + 4 * count; o < end; o += 4, g += 3) {
    const alpha = over[o + 3];
    // Most of a drawing is empty.
    if (alpha === 0) continue;
    if (alpha === 255) {
      ground[g] = over[o];
      ground[g + 1] = over[o + 1];
      ground[g + 2] = over[o + 2];
      continue;
    }
    const rest = 255 - alpha;
    ground[g] = (over[o] * alpha + ground[g] * rest + 127) / 255;
    ground[g + 1] = (over[o + 1] * alpha + ground[g + 1] * rest + 127) / 255;
    ground[g + 2] = (over[o + 2] * alpha + ground[g + 2] * rest + 127) / 255;
  }
}
