/**
 * The smallest photo that is measured, and the largest taken in. A rule's millimetres must be 2 px apart to be read; in a view of half a metre, which
 * a cloth needs, a megapixel has just those, and in less the long marks alone show, which pass for another rule's.
 */
export const LEAST_PX = 1e6;
export const MOST_PX = 100e6;

/**
 * A larger photo is shrunk to this while it is decoded: it bounds memory, and no phone lens resolves more. A little above 24
 * megapixels, so that cameras that give "24" (up to 6048 x 4032) are left as they are.
 */
export const WORKING_PX = 25e6;

/**
 * Size to shrink a photo to, or its own size when it is small enough. Among widths near the wanted one, the one whose height
 * comes out nearest to a whole number is taken, so that both axes shrink alike.
 */
export function workingSize(widthPx: number, heightPx: number): { width: number; height: number } {
  const scale = Math.sqrt(WORKING_PX / (widthPx * heightPx));
  if (scale >= 1) return { width: widthPx, height: heightPx };
  const most = Math.floor(widthPx * scale);
  let best = { width: most, height: 1, miss: Number.POSITIVE_INFINITY };
  for (let width = most; width > most - 32; width--) {
    const exact = (heightPx * width) / widthPx;
    const height = Math.max(1, Math.round(exact));
    const miss = Math.abs(exact - height) / exact;
    if (miss < best.miss) best = { width, height, miss };
  }
  return { width: best.width, height: best.height };
}
