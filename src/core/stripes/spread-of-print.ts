import type { BandPixel } from './band-pixels.js';

/** The view is looked at in so many parts either way. */
const PARTS = 3;
/** Pixels of a band that tell what is odd in a part of the view, and parts that tell how it is spread. */
const FEWEST_PIXELS = 20;
const FEWEST_PARTS = 4;
/** A print's figures come again and again, so that it shows in most parts; a hand's shadow or a table beyond the edge fill one or two. */
const LEAST_SPREAD = 0.45;

/**
 * The pixels without the odd ones of bands whose odd ones lie in few parts of the view: those are no print. How many parts hold them
 * is told by the participation ratio, (sum of p)^2 / sum of p^2 for the odd share p of each part: the number of parts where
 * they are spread evenly, 1 where all lie in one.
 *
 * @param pixels Of the bands 0 .. keys - 1, in px of a picture so wide and high.
 */
export function withoutLocalOddities(
  pixels: readonly BandPixel[],
  keys: number,
  width: number,
  height: number,
): readonly BandPixel[] {
  const local = Array.from({ length: keys }, (_, key) => isLocal(pixels, key, width, height));
  return local.includes(true) ? pixels.filter(({ key, odd }) => !(odd && local[key])) : pixels;
}

function isLocal(pixels: readonly BandPixel[], key: number, width: number, height: number): boolean {
  const seen = new Float64Array(PARTS * PARTS);
  const odd = new Float64Array(seen.length);
  const partOf = (place: number, size: number): number =>
    Math.min(PARTS - 1, Math.floor((place / size) * PARTS));
  for (const p of pixels) {
    if (p.key !== key) continue;
    const part = PARTS * partOf(p.y, height) + partOf(p.x, width);
    seen[part]++;
    if (p.odd) odd[part]++;
  }
  const shares = Array.from(seen, (n, part) => (n < FEWEST_PIXELS ? Number.NaN : odd[part] / n)).filter(
    (share) => !Number.isNaN(share),
  );
  const sum = shares.reduce((s, share) => s + share, 0);
  const squares = shares.reduce((s, share) => s + share ** 2, 0);
  return shares.length >= FEWEST_PARTS && sum ** 2 < LEAST_SPREAD * shares.length * squares;
}
