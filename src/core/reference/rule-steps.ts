import type { Raster } from '../raster/raster.js';
import { pointOnTick, type TickLine } from './tick-strip.js';

/**
 * Places side by side that step outwards together: spread over a stretch of s and walking along the ticks (`across`), or
 * spread over a stretch of depths and walking along the rule (`along`), from `base` in the direction of `sign`.
 */
export type Walk = (
  | { readonly across: { readonly from: number; readonly to: number } }
  | { readonly along: { readonly from: number; readonly to: number } }
) & { readonly sign: 1 | -1; readonly base: number; readonly from: number; readonly to: number };

/** Places side by side. */
export const PLACES = 96;

/** Distance of the first marked step between `from` and `to`, px, or null. */
export function firstEdge(
  picture: Raster<Uint8Array>,
  line: TickLine,
  walk: Walk,
  pxPerMm: number,
): number | null {
  // A step is the mean colour one and two gaps further out against that one and two gaps further in.
  const gap = Math.max(1.5, 0.36 * pxPerMm);
  const perGap = Math.max(1, Math.round(gap / Math.max(1, 0.2 * pxPerMm)));
  const stepPx = gap / perGap;
  const lead = 2 * perGap;
  const count = Math.floor((walk.to - walk.from) / stepPx) + 1;
  const colours = coloursAlong(picture, line, walk, walk.from - lead * stepPx, stepPx, count + 2 * lead);
  const responses = Array.from({ length: count }, (_, n) => medianStep(colours, n + lead, perGap));
  const sorted = responses.filter((v) => v >= 0).sort((a, b) => a - b);
  if (sorted.length < 5) return null;
  const floor = sorted[Math.floor(0.3 * sorted.length)];
  const bestAbove = (enough: number): number | null => firstStep(responses, enough, (2 * pxPerMm) / stepPx);
  // Wood grain and brushed metal have faint steps of their own: a clear one is looked for first.
  const n = bestAbove(Math.max(24, 3 * floor)) ?? bestAbove(Math.max(6, 3 * floor));
  return n === null ? null : walk.from + n * stepPx;
}

/** Index of the first local maximum of at least `enough`, or of a stronger one close after it. */
function firstStep(responses: readonly number[], enough: number, close: number): number | null {
  for (let n = 1; n < responses.length - 1; n++) {
    if (responses[n] >= enough && responses[n] >= responses[n - 1] && responses[n] >= responses[n + 1]) {
      // The strongest within the next two mm: a bevel or a shadow gives a first, smaller step.
      let best = n;
      for (let m = n; m < Math.min(responses.length, n + Math.ceil(close)); m++) {
        if (responses[m] > responses[best]) best = m;
      }
      return best;
    }
  }
  return null;
}

/** RGB of every place at `count` distances from `from` on; -1 outside the picture. */
export function coloursAlong(
  picture: Raster<Uint8Array>,
  line: TickLine,
  walk: Walk,
  from: number,
  stepPx: number,
  count: number,
): Int16Array {
  const { sign, base } = walk;
  const across = 'across' in walk;
  const spread = across ? walk.across : walk.along;
  const out = new Int16Array(count * PLACES * 3);
  for (let i = 0; i < PLACES; i++) {
    const place = spread.from + ((spread.to - spread.from) * (i + 0.5)) / PLACES;
    const at = (d: number) =>
      across ? pointOnTick(line, place, sign * d) : pointOnTick(line, base + sign * d, place);
    // Straight between its ends: over so few cm neither bend nor turn shows.
    const [x0, y0] = at(from);
    const [x1, y1] = at(from + (count - 1) * stepPx);
    const dx = (x1 - x0) / Math.max(1, count - 1);
    const dy = (y1 - y0) / Math.max(1, count - 1);
    takeColours(picture, x0, y0, dx, dy, count, i, out);
  }
  return out;
}

/** Colours at even steps along one line, into place i of each step; -1 outside the picture. A small loop is compiled early. */
function takeColours(
  { width, height, channels, data }: Raster<Uint8Array>,
  x0: number,
  y0: number,
  dx: number,
  dy: number,
  count: number,
  i: number,
  out: Int16Array,
): void {
  for (let n = 0; n < count; n++) {
    const x = x0 + n * dx;
    const y = y0 + n * dy;
    const o = (n * PLACES + i) * 3;
    if (x < 1 || y < 1 || x > width - 1 || y > height - 1) {
      out[o] = -1;
      continue;
    }
    const j = ((y | 0) * width + (x | 0)) * channels;
    out[o] = data[j];
    out[o + 1] = data[j + 1];
    out[o + 2] = data[j + 2];
  }
}

/** Median over the places of the largest channel difference across the step; -1 when most places lie outside. */
function medianStep(colours: Int16Array, n: number, gap: number): number {
  const row = 3 * PLACES;
  const near = (n + gap) * row;
  const far = (n + 2 * gap) * row;
  const nearIn = (n - gap) * row;
  const farIn = (n - 2 * gap) * row;
  const histogram = new Uint16Array(511);
  let count = 0;
  for (let i = 0; i < row; i += 3) {
    if (colours[near + i] < 0 || colours[far + i] < 0 || colours[nearIn + i] < 0 || colours[farIn + i] < 0) {
      continue;
    }
    let most = 0;
    for (let c = i; c < i + 3; c++) {
      const d = Math.abs(colours[near + c] + colours[far + c] - colours[nearIn + c] - colours[farIn + c]);
      if (d > most) most = d;
    }
    histogram[most]++;
    count++;
  }
  if (count < PLACES * 0.2) return -1;
  let bin = 0;
  for (let below = histogram[0]; below <= count >> 1; below += histogram[bin]) bin++;
  return bin / 2;
}
