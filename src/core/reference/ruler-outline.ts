import { median, robustSd } from '../math/robust.js';
import type { Raster } from '../raster/raster.js';
import { combPitchAt } from './comb-fit.js';
import type { LineChain } from './line-chains.js';
import type { TickReading } from './read-ticks.js';
import { coloursAlong, firstEdge, PLACES, type Walk } from './rule-steps.js';
import { pointOnTick, type TickLine } from './tick-strip.js';

/**
 * Outline of the ruler's body in picture px, in order round it: along the side of its marks, then back along the other. Four corners of a
 * straight rule; a tape that lies in a curve has as many points a side as it takes to follow it.
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
  // Single ticks run on into what lies beside the rule.
  const highest = Math.min(median(ticks.map((t) => t.from)), ...gridDepths);
  const clear = reading.grid.length > 0;
  const step = (walk: Walk): number | null => firstEdge(picture, line, walk, pxPerMm);
  // A curve that is no parabola leaves its line towards the ends.
  const isBent = chordsOf(line, sLast - sFirst) > 1;
  const margin = isBent ? (last.s - first.s) / 4 : 0;
  const rule = { from: first.s + margin, to: last.s - margin };
  // Behind the level line the body may end at once, or (ticks set in from the edge) some mm on.
  const outer = step({
    across: rule,
    sign: -1,
    base: 0,
    from: -highest - 0.5 * pxPerMm,
    to: -highest + 16 * pxPerMm,
  });
  const inner = clear
    ? step({ across: rule, sign: 1, base: 0, from: longest, to: longest + 16 * pxPerMm })
    : farSide(picture, line, rule, { longest, pxPerMm, widestMm });
  const tTop = inner ?? longest + (clear ? 10 : 0.3 * widestMm) * pxPerMm;
  const tLow = -(outer ?? (clear ? 10 : 3) * pxPerMm - highest);
  const along = { from: tLow, to: tTop };
  const farthest = (clear ? CLEAR_END_MM : END_MM) * pxPerMm;
  // Where no end shows a straight rule goes on for a while; of a tape in a curve nobody knows where to.
  const unseen = isBent ? 0 : farthest;
  const end = (sign: 1 | -1, base: number): number =>
    step({ along, sign, base, from: 0.7 * pxPerMm, to: farthest }) ?? unseen;
  const sFrom = sFirst - end(-1, sFirst);
  const sTo = sLast + end(1, sLast);
  const chords = chordsOf(line, sTo - sFrom);
  const side = (depth: number): [number, number][] =>
    Array.from({ length: chords + 1 }, (_, i) =>
      pointOnTick(line, sFrom + ((sTo - sFrom) * i) / chords, depth),
    );
  return [...side(tLow), ...side(tTop).reverse()];
}

/** Depth at which a body that hides what is under it ends beyond its ticks, px; null where no step shows. */
function farSide(
  picture: Raster<Uint8Array>,
  line: TickLine,
  rule: { readonly from: number; readonly to: number },
  { longest, pxPerMm, widestMm }: { longest: number; pxPerMm: number; widestMm: number },
): number | null {
  const step = (from: number, mm: number): number | null =>
    firstEdge(picture, line, { across: rule, sign: 1, base: 0, from, to: longest + mm * pxPerMm }, pxPerMm);
  const levels = levelsBetween(picture, line, rule);
  // Most rules are narrow; the rest are looked at further out.
  const first = step(longest, widestMm / 2) ?? step(longest, widestMm);
  if (first === null) return null;
  const next = step(first + 2 * pxPerMm, widestMm);
  if (next === null) return first;
  if (!goesOnBeyond(levels, first, next, pxPerMm))
    return isOneBody(levels, first, next, pxPerMm) ? next : first;
  const end = step(next + pxPerMm, widestMm);
  if (end === null) return null;
  const after = step(end + 2 * pxPerMm, widestMm);
  return after !== null && isOneBody(levels, end, after, pxPerMm) ? after : end;
}

/** An outline this far beside a curved body hides it as well, px. */
const MOST_SAG_PX = 1;

/** Straight pieces that follow the line's bend over a length: a chord of a parabola leaves it by bend * chord^2 / 4. */
const chordsOf = ({ bend }: TickLine, lengthPx: number): number =>
  Math.max(1, Math.ceil(lengthPx * Math.sqrt(Math.abs(bend) / (4 * MOST_SAG_PX))));

/** A rule ends within this of its last mark; a clear one, whose grid reaches nearly to its rim, within less. */
const END_MM = 30;
const CLEAR_END_MM = 15;

/** How much more the step may vary along the rule than shades of the body before it do, and what variation is none (8-bit levels). */
const AS_EVEN = 1.6;
const EVEN = 5;

/** Level of every place along the rule between two depths; NaN where less than half of them are in the picture. */
type LevelsBetween = (from: number, to: number) => Float64Array;

function levelsBetween(
  picture: Raster<Uint8Array>,
  line: TickLine,
  rule: { readonly from: number; readonly to: number },
): LevelsBetween {
  return (from, to) => {
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
}

const differences = (a: Float64Array, b: Float64Array): Float64Array =>
  a.map((v, i) => v - b[i]).filter((v) => !Number.isNaN(v));

/**
 * Whether what lies between two steps differs from the body before the first by the same all along: gloss and shade run over a body as a
 * whole, and cloth beside a glossy rule knows nothing of its gloss.
 */
function isOneBody(levels: LevelsBetween, first: number, next: number, pxPerMm: number): boolean {
  const inner = levels(first - 4 * pxPerMm, first - 2.4 * pxPerMm);
  const outer = levels(first - 2.2 * pxPerMm, first - 0.7 * pxPerMm);
  const beyond = levels(first + 0.7 * pxPerMm, next - 0.7 * pxPerMm);
  const spread = robustSd(differences(outer, inner));
  return robustSd(differences(beyond, outer)) < Math.max(EVEN, AS_EVEN * spread);
}

/** Whether the body is after the second step what it was before the first: a row of numerals lies between, or another printed line. */
function goesOnBeyond(levels: LevelsBetween, first: number, next: number, pxPerMm: number): boolean {
  const before = levels(first - 2.2 * pxPerMm, first - 0.7 * pxPerMm);
  const after = differences(levels(next + 0.7 * pxPerMm, next + 2.2 * pxPerMm), before);
  return robustSd(after) < EVEN && Math.abs(median([...after])) < EVEN;
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
