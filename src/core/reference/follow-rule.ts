import { median } from '../math/robust.js';
import { focalLength } from '../raster/focal-length.js';
import { fillLumaAlong, type PartialLuma } from '../raster/luminance.js';
import type { Raster } from '../raster/raster.js';
import { type Comb, combAt, combPitchAt, fitMarks } from './comb-fit.js';
import { endsOfTick, movedTicks, reachFor, type Tick, type TickReading } from './read-ticks.js';
import { levelOf } from './rule-level.js';
import { alongTicks } from './tick-direction.js';
import { lineSign } from './tick-sides.js';
import { meanRidge, pointOnTick, type TickLine, tickPeaks, tickSignal } from './tick-strip.js';

/**
 * The reading with its line laid along the rule and its ticks' direction as they have it, and its marks read anew there and followed over
 * the whole picture: a hand may cover the middle of a rule, and marks on both sides of it tell far better how the rule lies than those on one.
 */
export function followRule(part: PartialLuma, reading: TickReading): TickReading {
  if (reading.followed.length === 0) return reading;
  const { width, height } = part.picture;
  const { marks } = reading.fit;
  const middled = countedFrom(reading, marks[marks.length >> 1].x);
  let level = levelled(middled, focalLength(null, width, height).focalPx);
  for (let round = 0; round < DIRECTION_ROUNDS; round++)
    level = { ...level, line: alongTicks(part.luma, level) };
  return furtherMarks(part, level);
}

/** Each round takes away most of what the last one read wrong. */
const DIRECTION_ROUNDS = 2;

/**
 * The same reading with places along its line counted from s0. What few ticks tell of bend and turn is known about them only: counted from
 * far away, it would be large numbers that nearly cancel, and marks a hand's breadth from where they are.
 */
function countedFrom(reading: TickReading, s0: number): TickReading {
  const { line, comb, fit } = reading;
  const [x, y] = pointOnTick(line, s0, 0);
  const slope = 2 * line.bend * s0;
  const shiftedComb = ({ a, b, c }: Comb): Comb => ({ a: a - s0 * c, b: b - s0, c });
  return {
    ...reading,
    line: {
      ...line,
      x,
      y,
      alongX: line.alongX - slope * line.alongY,
      alongY: line.alongY + slope * line.alongX,
      tickAngle: line.tickAngle + line.tickTurn * s0,
      fromPx: line.fromPx - s0,
      toPx: line.toPx - s0,
      seen: { fromPx: line.seen.fromPx - s0, toPx: line.seen.toPx - s0 },
    },
    comb: shiftedComb(comb),
    fit: { ...fit, comb: shiftedComb(fit.comb), marks: fit.marks.map(({ k, x: s }) => ({ k, x: s - s0 })) },
    ...movedTicks(reading, (tick) => ({ ...tick, s: tick.s - s0 })),
  };
}

/**
 * The line may pass the ticks a little askew; marks taken on it would make them seem to lean. Places s along it stay as they are.
 * @param focalPx That of a common camera will do.
 */
function levelled(reading: TickReading, focalPx: number): TickReading {
  const { line, ticks, followed, fit, hierarchy } = reading;
  const depth = (line.depthFrom + line.depthTo) / 2;
  const s0 = fit.marks[fit.marks.length >> 1].x;
  const { slope, bend, sdPx } = levelOf(followed, hierarchy.rankOf, depth, s0, focalPx);
  // As a parabola in s from 0 on, along the ticks.
  const rise = slope - 2 * bend * s0;
  const lift = bend * s0 * s0 - slope * s0;
  const angle = line.tickAngle + line.tickTurn * s0;
  const [tickX, tickY] = [Math.cos(angle), Math.sin(angle)];
  const side = Math.sign(line.alongX * tickY - line.alongY * tickX);
  const level = (tick: Tick): Tick => {
    const moved = lift + rise * tick.s + bend * tick.s * tick.s;
    return { ...tick, from: tick.from - moved, to: tick.to - moved };
  };
  const levelTicks = followed.map(level);
  return {
    ...reading,
    line: {
      ...line,
      x: line.x + lift * tickX,
      y: line.y + lift * tickY,
      alongX: line.alongX + rise * tickX,
      alongY: line.alongY + rise * tickY,
      bend: line.bend + side * bend,
    },
    // Ticks that were put on one level are on it.
    ticks: ticks === followed ? levelTicks : ticks,
    followed: levelTicks,
    levelSdPx: sdPx,
  };
}

/** Marks looked for at once; how many of them must show, and how near to their places, in spacings. */
const BLOCK = 8;
const FEWEST = 7;
const NEAR = 0.3;
const MOST_OFF = 0.2;
const IN_STEP = 0.1;
/** Weave and print that happen to keep step are fainter than the rule's own marks, of which shade and gloss leave this much. */
const LEAST_RIDGE = 0.3;
/** Where more marks than this are out of sight, those beyond may be miscounted. */
const LONG_GAP = 12;
/** Lengths must tell so much better for the right number than for any beside it. */
const CLEARLY = 0.85;
/** So many marks behind tell where the next ones lie, or twice as many as a gap has: a lens bends a longer row too much. */
const BEHIND = 60;
/** Without robust weights: the first marks beyond a gap are few, and tell how the row goes on. */
const fitEvenly = (marks: readonly Mark[]): Comb => fitMarks(marks, 12, false);

type Mark = { readonly k: number; readonly x: number };

function furtherMarks(part: PartialLuma, reading: TickReading): TickReading {
  const { line, fit } = reading;
  const { luma } = part;
  const pitch = Math.abs(combPitchAt(fit.comb, fit.marks[fit.marks.length >> 1].k));
  const reach = reachFor(pitch);
  const deepest = Math.max(...reading.ticks.map((t) => Math.max(Math.abs(t.from), Math.abs(t.to))));
  fillLumaAlong(part, ...ends(line), deepest + reach + 20);
  const sign = lineSign(luma, reading);
  const peaks = tickPeaks(tickSignal(luma, line, reach, sign), reach * 0.6).sort((p, q) => p - q);
  const depth = (line.depthFrom + line.depthTo) / 2;
  const ridge = (at: readonly Mark[]): number =>
    meanRidge(
      luma,
      line,
      at.map(({ x }) => x),
      depth,
      reach,
      sign,
    );
  const faintest = LEAST_RIDGE * ridge(fit.marks);
  const inStep = keepsStep(luma, reading, sign);
  let marks = readAnew(fit.marks, peaks, fit.comb);
  for (const way of [1, -1] as const) {
    const outward = (list: readonly Mark[]): readonly Mark[] => (way > 0 ? list : [...list].reverse());
    const known = outward(marks);
    const span = Math.abs(known[known.length - 1].k - known[0].k);
    const runs: Mark[][] = [];
    let edge = known[known.length - 1].k;
    let last = edge;
    // Beyond a gap as long as all that was read before it, places are no longer known well enough.
    while (Math.abs(last - edge) <= span) {
      const gap = Math.abs(last - edge);
      const behind = [...known, ...runs.flat()].slice(-Math.max(BEHIND, 2 * gap));
      const comb = fitEvenly(outward(behind));
      const block = blockAt(comb, last + way, way, line);
      if (block.length < BLOCK) break;
      const found = marksNear(peaks, block, comb);
      last += way;
      if (found.length < FEWEST || ridge(found) < faintest) continue;
      if (runs.length === 0 || gap > LONG_GAP) runs.push(found);
      else runs[runs.length - 1].push(...found);
      edge = found[found.length - 1].k;
      last = edge;
    }
    const slip = runs.findIndex(
      (run, r) =>
        Math.abs(run[0].k - (r > 0 ? runs[r - 1] : known).slice(-1)[0].k) > LONG_GAP && !inStep(run),
    );
    const sure = runs.slice(0, slip < 0 ? runs.length : slip).flat();
    marks = outward([...known, ...sure]);
  }
  return withMarks(reading, marks);
}

/** The marks at the peaks nearest to their places; as they were where the line has no peak there. */
const readAnew = (marks: readonly Mark[], peaks: readonly number[], comb: Comb): readonly Mark[] =>
  marks.map(({ k, x }) => {
    const near = nearest(peaks, x);
    return { k, x: Math.abs(near - x) < MOST_OFF * Math.abs(combPitchAt(comb, k)) ? near : x };
  });

/** Of peaks in their order; infinite where there is none. */
function nearest(peaks: readonly number[], x: number): number {
  let low = 0;
  let high = peaks.length;
  while (low < high) {
    const middle = (low + high) >> 1;
    if (peaks[middle] < x) low = middle + 1;
    else high = middle;
  }
  const before = peaks[low - 1] ?? Number.NEGATIVE_INFINITY;
  const after = peaks[low] ?? Number.POSITIVE_INFINITY;
  return after - x < x - before ? after : before;
}

/**
 * Whether marks are as long as their numbers say, rather than as numbers a few off would: one number missed in a gap puts every
 * long mark beside its place.
 */
function keepsStep(
  luma: Raster<Uint8Array>,
  { line, followed, hierarchy, fit }: TickReading,
  sign: 1 | -1,
): (run: readonly Mark[]) => boolean {
  const pitch = Math.abs(combPitchAt(fit.comb, fit.marks[fit.marks.length >> 1].k));
  const length = (t: { readonly from: number; readonly to: number }): number => t.to - t.from;
  const usual = usualByRank(followed, hierarchy.rankOf, length);
  return (run) => {
    const lengths = run.map(({ k, x }) => ({
      k,
      length: length(endsOfTick(luma, line, x, pitch, sign)),
    }));
    // Farther off, ticks are shorter.
    const growth = median(lengths.map(({ k, length: l }) => l / (usual.get(hierarchy.rankOf(k)) ?? l)));
    const missed = (shift: number): number =>
      lengths.reduce((sum, tick) => {
        const due = usual.get(hierarchy.rankOf(tick.k + shift));
        return due === undefined ? sum : sum + Math.min(2 * pitch, Math.abs(tick.length - growth * due));
      }, 0);
    return SHIFTS.every((shift) => missed(0) <= CLEARLY * missed(shift));
  };
}

const SHIFTS = [-3, -2, -1, 1, 2, 3];

function withMarks(reading: TickReading, marks: readonly Mark[]): TickReading {
  const { fit, ticks } = reading;
  const comb = fitEvenly(marks);
  const added = marks.filter(({ k }) => k < fit.marks[0].k || k > fit.marks[fit.marks.length - 1].k);
  const before = added.filter(({ k }) => k < fit.marks[0].k);
  const like = ticksLike(reading);
  const squares = marks.reduce((sum, { k, x }) => sum + (combAt(comb, k) - x) ** 2, 0);
  return {
    ...reading,
    comb,
    fit: {
      comb,
      marks,
      rms: Math.sqrt(squares / Math.max(1, marks.length - 3)),
      presence: marks.length / (marks[marks.length - 1].k - marks[0].k + 1),
    },
    ticks: [...before.flatMap(like), ...ticks, ...added.slice(before.length).flatMap(like)],
  };
}

const ends = ({ x, y, alongX, alongY, fromPx, toPx }: TickLine): [number, number, number, number] => [
  x + fromPx * alongX,
  y + fromPx * alongY,
  x + toPx * alongX,
  y + toPx * alongY,
];

/** Numbers of the next marks that way that lie in the picture, nearest first. */
function blockAt(comb: Comb, first: number, way: 1 | -1, { fromPx, toPx }: TickLine): number[] {
  const block: number[] = [];
  for (let k = first; block.length < BLOCK; k += way) {
    // Near the vanishing point marks run together.
    if (comb.c * k + 1 <= 0.3) break;
    const x = combAt(comb, k);
    if (x < fromPx || x > toPx) break;
    block.push(k);
  }
  return block;
}

/** Peaks nearest to the block's places, in its order, that keep step with it. */
function marksNear(peaks: readonly number[], block: readonly number[], comb: Comb): Mark[] {
  const found: Mark[] = [];
  const misses: number[] = [];
  for (const k of block) {
    const x = combAt(comb, k);
    const pitch = Math.abs(combPitchAt(comb, k));
    const near = nearest(peaks, x);
    if (Math.abs(near - x) > NEAR * pitch) continue;
    found.push({ k, x: near });
    misses.push((near - x) / pitch);
  }
  const off = median(misses);
  return Math.abs(off) < MOST_OFF ? found.filter((_, i) => Math.abs(misses[i] - off) < IN_STEP) : [];
}

/** A tick at a mark, as long as others of its rank; none of a rank that was not seen. */
function ticksLike({ ticks, hierarchy }: TickReading): (mark: Mark) => Tick[] {
  const feet = usualByRank(ticks, hierarchy.rankOf, ({ from }) => from);
  const tips = usualByRank(ticks, hierarchy.rankOf, ({ to }) => to);
  return ({ k, x }) => {
    const from = feet.get(hierarchy.rankOf(k));
    const to = tips.get(hierarchy.rankOf(k));
    return from === undefined || to === undefined ? [] : [{ k, s: x, from, to }];
  };
}

/** Middle value over the ticks of each rank. */
function usualByRank(
  ticks: readonly Tick[],
  rankOf: (k: number) => number,
  measure: (tick: Tick) => number,
): Map<number, number> {
  const ranks = new Set(ticks.map(({ k }) => rankOf(k)));
  return new Map(
    [...ranks].map((rank) => [rank, median(ticks.filter(({ k }) => rankOf(k) === rank).map(measure))]),
  );
}
