import { median, robustSd } from '../math/robust.js';
import type { Raster } from '../raster/raster.js';
import { combPitchAt } from './comb-fit.js';
import type { LineChain } from './line-chains.js';
import type { TickReading } from './read-ticks.js';
import { pointOnTick, type TickLine } from './tick-strip.js';

/**
 * Outline of the ruler's body as four corners in picture px, in order round it.
 *
 * Seen from the ticks outwards, the body ends at the first step that runs along most of its length: at every distance
 * the colour a little further out is compared with that a little further in, and the median over many places along the
 * rule is taken, which numerals, ticks and crossing stripes do not move. A thin line is no step, so the grid of a
 * clear ruler is passed over. Where no step shows, `widestMm` bounds the body.
 */
export function rulerOutline(
  picture: Raster<Uint8Array>,
  reading: TickReading,
  widestMm = 70,
): [number, number][] {
  const { ticks, comb, hierarchy, line } = reading;
  const first = ticks[0];
  const last = ticks[ticks.length - 1];
  const middle = ticks[ticks.length >> 1];
  const pxPerMm = Math.abs(combPitchAt(comb, middle.k)) / hierarchy.pitchMm;
  const gridEnds = reading.grid.flatMap((g) => [g.fromPx, g.toPx].map((d) => onLine(reading, g, d)));
  const gridDepths = gridEnds.map((e) => e.depth);
  const sFirst = Math.min(first.s, ...gridEnds.map((e) => e.s));
  const sLast = Math.max(last.s, ...gridEnds.map((e) => e.s));
  const longest = Math.max(...ticks.map((t) => t.to), ...gridDepths);
  const highest = Math.min(...ticks.map((t) => t.from), ...gridDepths);
  const clear = reading.grid.length > 0;
  const step = (walk: Walk): number | null => firstEdge(picture, line, walk, pxPerMm);
  const rule = { from: first.s, to: last.s };
  const body = (mm: number): number | null =>
    step({ across: rule, sign: 1, base: 0, from: longest, to: longest + mm * pxPerMm });
  // Most rules are narrow; the rest are looked at further out.
  const near = clear ? body(16) : (body(widestMm / 2) ?? body(widestMm));
  // A bevel or a printed line is a step on the body: what lies beyond is as even along the rule as before. Cloth that it crosses is not.
  const beyond = (from: number): number | null =>
    step({ across: rule, sign: 1, base: 0, from, to: longest + widestMm * pxPerMm });
  const next = clear || near === null ? null : beyond(near + 2 * pxPerMm);
  const inner = next !== null && isOneBody(picture, line, rule, near as number, next, pxPerMm) ? next : near;
  // Behind the level line the body may end at once, or (ticks set in from the edge) some mm on.
  const outer = step({
    across: rule,
    sign: -1,
    base: 0,
    from: Math.max(0, -highest - 0.5 * pxPerMm),
    to: Math.max(0, -highest) + 16 * pxPerMm,
  });
  const tTop = inner ?? longest + (clear ? 10 : 0.3 * widestMm) * pxPerMm;
  const tLow = -(outer ?? (clear ? 10 * pxPerMm - highest : 3 * pxPerMm));
  const along = { from: tLow, to: tTop };
  const farthest = (clear ? CLEAR_END_MM : END_MM) * pxPerMm;
  const end = (sign: 1 | -1, base: number): number =>
    step({ along, sign, base, from: 0.7 * pxPerMm, to: farthest }) ?? farthest;
  const sFrom = sFirst - end(-1, sFirst);
  const sTo = sLast + end(1, sLast);
  return [
    pointOnTick(line, sFrom, tLow),
    pointOnTick(line, sTo, tLow),
    pointOnTick(line, sTo, tTop),
    pointOnTick(line, sFrom, tTop),
  ];
}

/** A rule ends within this of its last mark; a clear one, whose grid reaches nearly to its rim, within less. */
const END_MM = 30;
const CLEAR_END_MM = 15;

/** How much more the step may vary along the rule than shades of the body before it do, and what variation is none (8-bit levels). */
const AS_EVEN = 1.6;
const EVEN = 5;

/**
 * Whether what lies between two steps differs from the body before the first by the same all along: gloss and shade run over a body as a
 * whole, and cloth beside a glossy rule knows nothing of its gloss.
 */
function isOneBody(
  picture: Raster<Uint8Array>,
  line: TickLine,
  rule: { readonly from: number; readonly to: number },
  first: number,
  next: number,
  pxPerMm: number,
): boolean {
  /** Level of every place along the rule between two depths; NaN where less than half of them are in the picture. */
  const levels = (from: number, to: number): Float64Array => {
    const count = 5;
    const walk = { across: rule, sign: 1, base: 0, from, to } as const;
    const colours = coloursAlong(picture, line, walk, from, (to - from) / (count - 1), count);
    return Float64Array.from({ length: PLACES }, (_, i) => {
      const seen = Array.from({ length: count }, (_n, n) => 3 * (n * PLACES + i)).filter(
        (o) => colours[o] >= 0,
      );
      return seen.length > count / 2
        ? median(seen.map((o) => (colours[o] + colours[o + 1] + colours[o + 2]) / 3))
        : Number.NaN;
    });
  };
  const spread = (a: Float64Array, b: Float64Array): number =>
    robustSd(a.map((v, i) => v - b[i]).filter((v) => !Number.isNaN(v)));
  const inner = levels(first - 4 * pxPerMm, first - 2.4 * pxPerMm);
  const outer = levels(first - 2.2 * pxPerMm, first - 0.7 * pxPerMm);
  const beyond = levels(first + 0.7 * pxPerMm, next - 0.7 * pxPerMm);
  return spread(beyond, outer) < Math.max(EVEN, AS_EVEN * spread(outer, inner));
}

/** A point of a grid line as distance along the level line and depth along the ticks. */
function onLine({ line }: TickReading, grid: LineChain, d: number): { s: number; depth: number } {
  const x = grid.x + d * grid.alongX - line.x;
  const y = grid.y + d * grid.alongY - line.y;
  const tx = Math.cos(line.tickAngle);
  const ty = Math.sin(line.tickAngle);
  const turn = line.alongX * ty - line.alongY * tx;
  return { s: (x * ty - y * tx) / turn, depth: (line.alongX * y - line.alongY * x) / turn };
}

/**
 * Places side by side that step outwards together: spread over a stretch of s and walking along the ticks (`across`), or
 * spread over a stretch of depths and walking along the rule (`along`), from `base` in the direction of `sign`.
 */
type Walk = (
  | { readonly across: { readonly from: number; readonly to: number } }
  | { readonly along: { readonly from: number; readonly to: number } }
) & { readonly sign: 1 | -1; readonly base: number; readonly from: number; readonly to: number };

/** Places side by side. */
const PLACES = 96;

/** Distance of the first marked step between `from` and `to`, px, or null. */
function firstEdge(picture: Raster<Uint8Array>, line: TickLine, walk: Walk, pxPerMm: number): number | null {
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
function coloursAlong(
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
