import { median, quantile, robustSd } from '../math/robust.js';
import { fillLumaAlong, type PartialLuma } from '../raster/luminance.js';
import { type Comb, type CombFit, combAt, combPitchAt, fitComb } from './comb-fit.js';
import { finerMarks } from './finer-marks.js';
import type { LineChain } from './line-chains.js';
import { readHierarchy, type TickHierarchy } from './tick-hierarchy.js';
import { depthsBetween, followTick, meanRidge, type TickLine, tickPeaks, tickSignal } from './tick-strip.js';

/** A tick's number, its place along the level line, and the depths at which it begins and ends, px. */
export interface Tick {
  readonly k: number;
  readonly s: number;
  readonly from: number;
  readonly to: number;
}

/** A ruler's scale read from one level line of ticks. Positions s in px along the line. */
export interface TickReading {
  readonly line: TickLine;
  readonly comb: Comb;
  readonly fit: CombFit;
  readonly hierarchy: TickHierarchy;
  readonly ticks: readonly Tick[];
  /** The ticks as they were followed, before their feet or tips were put on one level; the same list as `ticks` where none were. */
  readonly followed: readonly Tick[];
  /** How far a single mark's level may lie off the line, px (standard deviation); infinite until it is known. */
  readonly levelSdPx: number;
  /** Lines of the ruler's printed grid in px of the picture; empty for a rule without one. */
  readonly grid: readonly LineChain[];
  /** Ticks times the share of their lengths that the hierarchy explains: the best reading of a photo has most. */
  readonly score: number;
}

/** Ticks are sought with these half-gaps after the one that the rough spacing suggests, px. */
const REACHES = [3, 2, 5];

/**
 * Reads the ticks on one level line: peaks, comb, lengths, unit. The line may be the ticks' feet or the tips of the short ones, and
 * its rough spacing that of the longer ticks only, so both sides and several reaches are tried. Null when none holds: too
 * few marks, uneven spacing, or lengths without a hierarchy (fine stripes are a comb as well).
 */
export function readTicks(
  part: PartialLuma,
  line: TickLine,
  roughPitchPx: number,
  sign: 1 | -1,
  unit: 'auto' | 'mm' | 'inch',
  unread: UnreadComb[] = [],
): TickReading | null {
  const first = reachFor(roughPitchPx);
  const mirrored = { ...line, depthFrom: -line.depthTo, depthTo: -line.depthFrom };
  const centred = line.depthFrom === -line.depthTo;
  const others = REACHES.filter((r) => Math.abs(r - first) > 0.3);
  const found: UnreadComb[] = [];
  for (const reach of [first, ...(centred ? others.slice(0, 1) : others)]) {
    for (const side of centred ? [line] : [line, mirrored]) {
      // Where there is a comb already, only a far finer one is worth another look.
      if (found.some((f) => f.line === side && reach > 0.25 * f.pitch)) continue;
      const comb = combAlong(part, side, reach, sign);
      if (comb === null) continue;
      const reading = readComb(part, side, comb.fit, sign, unit);
      if (reading !== null) return reading;
      found.push(comb);
    }
  }
  unread.push(...found);
  return null;
}

/** A comb whose marks' lengths told nothing. */
export interface UnreadComb {
  readonly line: TickLine;
  readonly sign: 1 | -1;
  readonly fit: CombFit;
  readonly pitch: number;
}

/**
 * Reads the marks between those of a comb: the long ones alone may have shown, the short ones being blurred or noisy. Null when
 * there are none.
 */
export function readBetween(
  part: PartialLuma,
  { line, sign, fit, pitch }: UnreadComb,
  unit: 'auto' | 'mm' | 'inch',
): TickReading | null {
  const whole = aroundMarks(line, fit, pitch);
  fillAlong(part, whole, 3 * pitch);
  const finer = finerMarks(part.luma, whole, fit);
  if (finer === null) return null;
  const { parts, depthFrom, depthTo } = finer;
  const level = { ...whole, depthFrom, depthTo };
  const finerFit = combOn(part.luma, level, pitch / parts, sign);
  if (finerFit === null || Math.abs((pitchOf(finerFit) * parts) / pitch - 1) > 0.05) return null;
  return readComb(part, level, finerFit, sign, unit);
}

/** At the middle, px. */
const pitchOf = ({ comb, marks }: CombFit): number => Math.abs(combPitchAt(comb, marks[marks.length >> 1].k));

const lengthOf = (tick: { readonly from: number; readonly to: number }): number => tick.to - tick.from;

/** How far from a tick's middle its ground is looked for, px. */
export const reachFor = (pitchPx: number): number => Math.min(12, Math.max(2, 0.42 * pitchPx));

/** The comb of the ticks along a line, or null. */
function combAlong(part: PartialLuma, whole: TickLine, firstReach: number, sign: 1 | -1): UnreadComb | null {
  const { luma } = part;
  // A few depths show whether there is a comb at all.
  const few = depthsBetween(whole.depthFrom, whole.depthTo, 5);
  const seen = { ...whole, ...whole.seen };
  fillAlong(part, whole, Math.max(Math.abs(whole.depthFrom), Math.abs(whole.depthTo)));
  const rough = fitComb(tickPeaks(tickSignal(luma, seen, firstReach, sign, few), firstReach * 0.6));
  if (rough === null) return null;
  const pitch = pitchOf(rough);
  if (pitch < 3) return null;
  const fit = combOn(luma, aroundMarks(whole, rough, 24 * pitch), pitch, sign) ?? rough;
  return { line: whole, sign, fit, pitch };
}

/** The comb of the ticks on a line whose spacing is known roughly. */
function combOn(luma: PartialLuma['luma'], line: TickLine, pitchPx: number, sign: 1 | -1): CombFit | null {
  const reach = reachFor(pitchPx);
  return fitComb(tickPeaks(tickSignal(luma, line, reach, sign), reach * 0.6));
}

/** No mark of a rule is longer, in spacings. */
const LONGEST = 14;

/** Where the tick at s begins and ends, in px of depth. */
export const endsOfTick = (
  luma: PartialLuma['luma'],
  line: TickLine,
  s: number,
  pitchPx: number,
  sign: 1 | -1,
): { from: number; to: number } =>
  followTick(luma, line, s, reachFor(pitchPx), sign, LONGEST * pitchPx, Math.max(2, 0.25 * pitchPx));

/** Follows the ticks of a comb and reads their unit. */
function readComb(
  part: PartialLuma,
  whole: TickLine,
  fit: CombFit,
  sign: 1 | -1,
  unit: 'auto' | 'mm' | 'inch',
): TickReading | null {
  const { luma } = part;
  const pitch = pitchOf(fit);
  if (fit.marks.length < 16 || fit.presence < 0.55 || fit.rms > 0.1 * pitch) return null;
  const line = aroundMarks(whole, fit, 24 * pitch);
  const { comb } = fit;
  const longest = LONGEST * pitch;
  fillAlong(part, aroundMarks(whole, fit, pitch), longest);
  const follow = ({ k }: { readonly k: number }) => {
    const s = combAt(comb, k);
    return { k, s, ...endsOfTick(luma, line, s, pitch, sign) };
  };
  // A few tell whether these are ticks at all: stripes go on and on, noise leads nowhere.
  // Neighbours, not every n-th: n would often be a whole number of centimetres.
  const third = Math.floor(fit.marks.length / 3);
  const sample = [...fit.marks.slice(third, third + 12), ...fit.marks.slice(-12)];
  const seenTicks = sample.map(follow);
  const middle = (line.depthFrom + line.depthTo) / 2;
  const reaches = [
    median(seenTicks.map((t) => t.to - middle)),
    median(seenTicks.map((t) => middle - t.from)),
  ];
  // One side may run on: ticks that end at the rule's edge, over stripes that go their way.
  if (Math.min(...reaches) > 0.4 * longest || reaches[0] + reaches[1] < 3) return null;
  const followed = fit.marks.map(follow);
  const found = readLengths(followed, unit, pitch);
  if (found === null) return null;
  const { hierarchy, ticks } = found;
  // Half millimetres whose shorter marks were missed have the ranks of tenths of an inch, and what is left of each mark is short.
  if (isTenths(hierarchy) && marksBetween(luma, line, ticks, pitch, sign)) return null;
  return feetFirst({
    line: whole,
    comb,
    fit,
    hierarchy,
    ticks,
    followed,
    levelSdPx: Infinity,
    grid: [],
    score: ticks.length * hierarchy.explained,
  });
}

/**
 * The unit from whole lengths; failing that from the tips alone, on either side: feet stand on one level, which stripes or the
 * rule's own edge can hide. Feet then are put on that level.
 */
function readLengths(
  ticks: readonly Tick[],
  unit: 'auto' | 'mm' | 'inch',
  pitch: number,
): { hierarchy: TickHierarchy; ticks: readonly Tick[] } | null {
  const read = (from: readonly Tick[], ends: 'both' | 'tips'): TickHierarchy | null =>
    readHierarchy(
      from.map((t) => ({ k: t.k, lengthPx: Math.max(0, lengthOf(t)) })),
      { only: unit, pitchPx: pitch, ends },
    );
  const whole = read(ticks, 'both');
  if (whole !== null) return { hierarchy: whole, ticks };
  for (const tip of ['to', 'from'] as const) {
    const others = ticks.map((t) => (tip === 'to' ? t.from : t.to));
    const feet = median(others);
    // Ends that lie far off and apart are not feet; the level line is then all there is to go by.
    const level = Math.abs(feet) < pitch || robustSd(others) < 0.35 * pitch ? feet : 0;
    const stood = straightened(ticks, tip).map((t) =>
      tip === 'to' ? { ...t, from: level } : { ...t, to: level },
    );
    const hierarchy = read(stood, 'tips');
    if (hierarchy !== null) return { hierarchy, ticks: stood };
  }
  return null;
}

/** Ticks to either side over which the level of the short ones is judged. */
const AROUND = 20;

/**
 * With the tips of the short ticks brought to one depth, as they are on the rule: a tape lies in a curve, and the level line is
 * found only so well. A quarter of the ticks on any stretch are of the shortest rank on every scale.
 */
function straightened(ticks: readonly Tick[], tip: 'to' | 'from'): Tick[] {
  const sign = tip === 'to' ? 1 : -1;
  const depths = Float64Array.from(ticks, (t) => sign * t[tip]);
  const usual = quantile(depths, 0.25);
  return ticks.map((t, i) => {
    const here = quantile(depths.subarray(Math.max(0, i - AROUND), i + AROUND + 1), 0.25);
    return { ...t, [tip]: sign * (depths[i] - here + usual) };
  });
}

const isTenths = ({ unit, period }: TickHierarchy): boolean => unit === 'inch' && period === 10;

/** Are there shorter marks half-way between the ticks, at their feet, their tips or beyond either? */
function marksBetween(
  luma: PartialLuma['luma'],
  line: TickLine,
  ticks: readonly Tick[],
  pitch: number,
  sign: 1 | -1,
): boolean {
  const at = ticks.map((t) => t.s);
  const between = at.slice(1).map((s, i) => (s + at[i]) / 2);
  const reach = Math.max(1, 0.22 * pitch);
  const from = median(ticks.map((t) => t.from)) - 1.5 * pitch;
  const to = median(ticks.map((t) => t.to)) + 1.5 * pitch;
  let strongest = 0;
  let strongestBetween = 0;
  for (let d = from; d <= to; d++) {
    strongest = Math.max(strongest, meanRidge(luma, line, at, d, reach, sign));
    strongestBetween = Math.max(strongestBetween, meanRidge(luma, line, between, d, reach, sign));
  }
  return strongestBetween > 0.3 * strongest;
}

/** The line, no longer than its marks and so much to either side. */
function aroundMarks(line: TickLine, { marks }: CombFit, marginPx: number): TickLine {
  return {
    ...line,
    fromPx: Math.max(line.fromPx, marks[0].x - marginPx),
    toPx: Math.min(line.toPx, marks[marks.length - 1].x + marginPx),
  };
}

/** Fills in what is sampled up to `depthPx` on either side of the line, neighbours of ticks included. */
function fillAlong(part: PartialLuma, line: TickLine, depthPx: number): void {
  const { x, y, alongX, alongY, fromPx, toPx, bend } = line;
  const sideways = Math.abs(bend) * Math.max(fromPx * fromPx, toPx * toPx);
  fillLumaAlong(
    part,
    x + fromPx * alongX,
    y + fromPx * alongY,
    x + toPx * alongX,
    y + toPx * alongY,
    depthPx + sideways + 20,
  );
}

/**
 * The same reading with depth growing from the ticks' feet to their tips. Feet stand level on the rule's edge and tips do not, so
 * the feet are the ends that scatter least; the body of the rule lies on the side of the tips.
 */
function feetFirst(reading: TickReading): TickReading {
  const { line, ticks } = reading;
  // Four ticks in five are short, and their tips are level too: the outer tenths tell.
  const reach = (ends: number[]): number => quantile(ends, 0.93) - quantile(ends, 0.07);
  if (reach(ticks.map((t) => t.from)) <= reach(ticks.map((t) => t.to))) return reading;
  return {
    ...reading,
    line: {
      ...line,
      tickAngle: line.tickAngle + Math.PI,
      depthFrom: -line.depthTo,
      depthTo: -line.depthFrom,
    },
    ...movedTicks(reading, turned),
  };
}

/** All ticks moved in one way. Those that were never put on one level stay the very list that was followed. */
export function movedTicks(
  { ticks, followed }: TickReading,
  move: (tick: Tick) => Tick,
): Pick<TickReading, 'ticks' | 'followed'> {
  const moved = followed.map(move);
  return { ticks: ticks === followed ? moved : ticks.map(move), followed: moved };
}

const turned = (tick: Tick): Tick => ({ ...tick, from: -tick.to, to: -tick.from });
