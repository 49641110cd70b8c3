import type { Point } from '../math/matrix3.js';
import { middleOf } from '../math/select.js';
import type { Raster } from '../raster/raster.js';

/** Places side by side across the body. */
const PLACES = 24;
/** Strips along the known body that tell how it looks. */
const KNOWN = 48;
/** A strip may depart from the body by this much (8-bit levels), or by its own scatter times the second. */
const LEVELS = 14;
const SCATTERS = 3;
/** A body whose strips differ more than this is clear: what shows is the cloth, and says nothing about where the ruler ends. */
const CLEAR = 40;
/** How fast the looked-for colour follows the light along the ruler, a strip. */
const FOLLOW = 0.1;
/** A gap of this length ends the ruler, mm: glare or a hand is longer than a numeral is wide. */
const GAP_MM = 6;

/**
 * The outline drawn out, both ways along the ruler, as far as its body goes on: ticks that are worn, blurred or covered end the part that
 * was read, not the ruler, and what is left of it would be taken for cloth. Strips square to the ruler are compared with
 * those inside the outline, the median over places across the body, which numerals and ticks do not move.
 *
 * @param picture Copy of the photo, `shrink` picture px to one of its own.
 * @param outline Four corners in picture px: along one long side, then back along the other.
 */
export function wholeRuler(
  picture: Raster<Uint8Array>,
  shrink: number,
  outline: readonly Point[],
  pxPerMm: number,
): readonly Point[] {
  const [lowFrom, lowTo, topTo, topFrom] = outline;
  const length = Math.hypot(lowTo[0] - lowFrom[0], lowTo[1] - lowFrom[1]);
  const width = Math.hypot(topFrom[0] - lowFrom[0], topFrom[1] - lowFrom[1]);
  // A body place: share of the way along, 0 to 1 inside the outline; share of the way across.
  const at = (along: number, across: number): Point => {
    const low = between(lowFrom, lowTo, along);
    const top = between(topFrom, topTo, along);
    return between(low, top, across);
  };
  const strip = (along: number): Float64Array | null => stripColour(picture, shrink, (w) => at(along, w));
  const known: Float64Array[] = [];
  for (let k = 0; k < KNOWN; k++) {
    const colour = strip((k + 0.5) / KNOWN);
    if (colour) known.push(colour);
  }
  if (known.length < KNOWN / 4) return outline;
  const apart = known.slice(1).map((colour, k) => distance(colour, known[k]));
  const scatter = middleOf(Float64Array.from(apart), apart.length);
  if (scatter > CLEAR / SCATTERS) return outline;
  const limit = Math.max(LEVELS, SCATTERS * scatter);
  const step = pxPerMm / length;
  const most = (Math.hypot(picture.width, picture.height) * shrink) / length;
  const reach = (end: 0 | 1): number => {
    const sign = end === 1 ? 1 : -1;
    const usual = Float64Array.from(end === 1 ? known[known.length - 1] : known[0]);
    let last = end as number;
    for (let along = end + sign * step; Math.abs(along - end) < most; along += sign * step) {
      const colour = strip(along);
      // Out of the picture: on to where the last corner is out, too.
      if (colour === null) return along + (sign * width) / length;
      if (distance(colour, usual) > limit) {
        if (Math.abs(along - last) > GAP_MM * step) break;
        continue;
      }
      last = along;
      for (let c = 0; c < 3; c++) usual[c] += FOLLOW * (colour[c] - usual[c]);
    }
    return last;
  };
  const from = reach(0);
  const to = reach(1);
  return [at(from, 0), at(to, 0), at(to, 1), at(from, 1)];
}

const between = (p: Point, q: Point, share: number): Point => [
  p[0] + (q[0] - p[0]) * share,
  p[1] + (q[1] - p[1]) * share,
];

const distance = (p: Float64Array, q: Float64Array): number =>
  Math.max(Math.abs(p[0] - q[0]), Math.abs(p[1] - q[1]), Math.abs(p[2] - q[2]));

/** Median of each channel over places across the body; null where half of them lie outside the picture. */
function stripColour(
  { width, height, channels, data }: Raster<Uint8Array>,
  shrink: number,
  at: (across: number) => Point,
): Float64Array | null {
  const values = [0, 1, 2].map(() => new Float64Array(PLACES));
  let n = 0;
  for (let k = 0; k < PLACES; k++) {
    // A little inside either long side, clear of bevel and shadow.
    const [px, py] = at(0.1 + (0.8 * (k + 0.5)) / PLACES);
    const x = Math.floor(px / shrink);
    const y = Math.floor(py / shrink);
    if (x < 0 || y < 0 || x >= width || y >= height) continue;
    const i = (y * width + x) * channels;
    for (let c = 0; c < 3; c++) values[c][n] = data[i + c];
    n++;
  }
  return n < PLACES / 2 ? null : Float64Array.from(values, (channel) => middleOf(channel, n));
}
