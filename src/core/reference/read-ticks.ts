import { median, quantile } from '../math/robust.js';
import type { Raster } from '../raster/raster.js';
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
  luma: Raster<Uint8Array>,
  line: TickLine,
  roughPitchPx: number,
  sign: 1 | -1,
  unit: 'auto' | 'mm' | 'inch',
): TickReading | null {
  const first = reachFor(roughPitchPx);
  const mirrored = { ...line, depthFrom: -line.depthTo, depthTo: -line.depthFrom };
  const centred = line.depthFrom === -line.depthTo;
  const others = REACHES.filter((r) => Math.abs(r - first) > 0.3);
  for (const reach of [first, ...(centred ? others.slice(0, 1) : others)]) {
    for (const side of centred ? [line] : [line, mirrored]) {
      const reading = readAt(luma, side, reach, sign, unit);
      if (reading !== null) return reading;
    }
  }
  return null;
}

const lengthOf = (tick: { readonly from: number; readonly to: number }): number => tick.to - tick.from;

const reachFor = (pitchPx: number): number => Math.min(12, Math.max(2, 0.42 * pitchPx));

function readAt(
  luma: Raster<Uint8Array>,
  line: TickLine,
  firstReach: number,
  sign: 1 | -1,
  unit: 'auto' | 'mm' | 'inch',
): TickReading | null {
  // A few depths show whether there is a comb at all.
  const few = depthsBetween(line.depthFrom, line.depthTo, 5);
  let fit = fitComb(tickPeaks(tickSignal(luma, line, firstReach, sign, few), firstReach * 0.6));
  if (fit === null || fit.marks.length < 16) return null;
  const middle = fit.marks[fit.marks.length >> 1].k;
  const pitch = Math.abs(combPitchAt(fit.comb, middle));
  if (pitch < 3) return null;
  const reach = reachFor(pitch);
  fit = fitComb(tickPeaks(tickSignal(luma, line, reach, sign), reach * 0.6)) ?? fit;
  if (fit.presence < 0.55 || fit.rms > 0.1 * pitch) return null;
  const { comb } = fit;
  const longest = 14 * pitch;
  const follow = ({ k }: { readonly k: number }) => {
    const s = combAt(comb, k);
    return { k, s, ...followTick(luma, line, s, reach, sign, longest) };
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
    line,
    comb,
    fit,
    hierarchy,
    ticks,
    grid: [],
    score: ticks.length * hierarchy.explained,
  });
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
