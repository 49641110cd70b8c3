import { median, quantile } from '../math/robust.js';
import { fillLumaAlong, type PartialLuma } from '../raster/luminance.js';
import { type Comb, type CombFit, combAt, combPitchAt, fitComb } from './comb-fit.js';
import type { LineChain } from './line-chains.js';
import { readHierarchy, type TickHierarchy } from './tick-hierarchy.js';
import { depthsBetween, followTick, type TickLine, tickPeaks, tickSignal } from './tick-strip.js';

/** A ruler's scale read from one level line of ticks. Positions s in px along the line. */
export interface TickReading {
  readonly line: TickLine;
  readonly comb: Comb;
  readonly fit: CombFit;
  readonly hierarchy: TickHierarchy;
  readonly ticks: readonly {
    readonly k: number;
    readonly s: number;
    readonly from: number;
    readonly to: number;
  }[];
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
): TickReading | null {
  const first = reachFor(roughPitchPx);
  const mirrored = { ...line, depthFrom: -line.depthTo, depthTo: -line.depthFrom };
  const centred = line.depthFrom === -line.depthTo;
  const others = REACHES.filter((r) => Math.abs(r - first) > 0.3);
  const judged: Judged[] = [];
  for (const reach of [first, ...(centred ? others.slice(0, 1) : others)]) {
    for (const side of centred ? [line] : [line, mirrored]) {
      const reading = readAt(part, side, reach, sign, unit, judged);
      if (reading !== null) return reading;
    }
  }
  return null;
}

/** A comb that was looked at and is no ruler's: another reach on the same side often finds it again. */
interface Judged {
  readonly line: TickLine;
  readonly pitch: number;
  readonly marks: number;
}

const lengthOf = (tick: { readonly from: number; readonly to: number }): number => tick.to - tick.from;

const reachFor = (pitchPx: number): number => Math.min(12, Math.max(2, 0.42 * pitchPx));

function readAt(
  part: PartialLuma,
  whole: TickLine,
  firstReach: number,
  sign: 1 | -1,
  unit: 'auto' | 'mm' | 'inch',
  judged: Judged[],
): TickReading | null {
  const { luma } = part;
  // A few depths show whether there is a comb at all.
  const few = depthsBetween(whole.depthFrom, whole.depthTo, 5);
  const seen = { ...whole, ...whole.seen };
  fillAlong(part, whole, Math.max(Math.abs(whole.depthFrom), Math.abs(whole.depthTo)));
  const rough = fitComb(tickPeaks(tickSignal(luma, seen, firstReach, sign, few), firstReach * 0.6));
  if (rough === null || rough.marks.length < 16) return null;
  const pitch = Math.abs(combPitchAt(rough.comb, rough.marks[rough.marks.length >> 1].k));
  if (pitch < 3) return null;
  const known = ({ line, pitch: p, marks }: Judged): boolean =>
    line === whole && Math.abs(p / pitch - 1) < 0.003 && marks === rough.marks.length;
  if (judged.some(known)) return null;
  judged.push({ line: whole, pitch, marks: rough.marks.length });
  const reach = reachFor(pitch);
  const line = aroundMarks(whole, rough, 24 * pitch);
  const fit = fitComb(tickPeaks(tickSignal(luma, line, reach, sign), reach * 0.6)) ?? rough;
  if (fit.presence < 0.55 || fit.rms > 0.1 * pitch) return null;
  const { comb } = fit;
  const longest = 14 * pitch;
  const gap = Math.max(2, 0.25 * pitch);
  fillAlong(part, aroundMarks(whole, fit, pitch), longest);
  const follow = ({ k }: { readonly k: number }) => {
    const s = combAt(comb, k);
    return { k, s, ...followTick(luma, line, s, reach, sign, longest, gap) };
  };
  // A few tell whether these are ticks at all: stripes go on and on, noise leads nowhere.
  // Neighbours, not every n-th: n would often be a whole number of centimetres.
  const third = Math.floor(fit.marks.length / 3);
  const sample = [...fit.marks.slice(third, third + 12), ...fit.marks.slice(-12)];
  const lengths = sample.map((m) => lengthOf(follow(m)));
  const usual = median(lengths);
  if (usual > 0.6 * longest || usual < 3) return null;
  const ticks = fit.marks.map(follow);
  const hierarchy = readHierarchy(
    ticks.map((t) => ({ k: t.k, lengthPx: lengthOf(t) })),
    unit,
    pitch,
  );
  if (hierarchy === null) return null;
  return feetFirst({
    line: whole,
    comb,
    fit,
    hierarchy,
    ticks,
    grid: [],
    score: ticks.length * hierarchy.explained,
  });
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
    ticks: ticks.map((t) => ({ ...t, from: -t.to, to: -t.from })),
  };
}
