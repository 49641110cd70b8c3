import { medianSlope } from '../math/median-slope.js';
import { median, robustSd } from '../math/robust.js';
import type { Segment } from './segment.js';
import type { BandPlace } from './stripe-reading.js';

/** A repeat may differ from its neighbours by this part and be uneven cloth; and by so many times the usual scatter. */
const TOLERANCE = 0.06;
const SCATTERS = 6;
/** Fewer repeats of an edge cannot tell which of them is out. */
const FEWEST = 6;

interface Step {
  /** The segment further from the middle of all, and where it begins. */
  readonly outer: number;
  readonly at: number;
  readonly columns: number;
}

/**
 * Takes the places from segments whose band begins clearly less or more than a repeat from where it began the time before: near a
 * table or a hand bands are split and joined to fit what is there, and their count slips. A steady growth across the
 * picture is tilt. What stands where is then told by its place in the plane.
 */
export function withoutSlips(
  segments: readonly Segment[],
  places: readonly (BandPlace | null)[],
): (BandPlace | null)[] {
  const steps = stepsOf(segments, places);
  if (steps.length < FEWEST) return [...places];
  const usual = median(steps.map(({ columns }) => columns));
  const slope = medianSlope(steps.map(({ at, columns }) => ({ x: at, y: columns })));
  const middle = median(steps.map(({ at }) => at));
  const level = median(steps.map(({ at, columns }) => columns - slope * (at - middle)));
  const off = steps.map(({ at, columns }) => columns - level - slope * (at - middle));
  const limit = Math.max(TOLERANCE * usual, SCATTERS * robustSd(off));
  const slipped = new Set(steps.filter((_, i) => Math.abs(off[i]) > limit).map(({ outer }) => outer));
  // Were it most of them, nothing would say which are right.
  if (3 * slipped.size > steps.length) return [...places];
  // A segment that begins in the wrong place ends the one before it there.
  return places.map((place, s) => (slipped.has(s) || slipped.has(s + 1) ? null : place));
}

/** From each beginning of a band to the next one of the same band a repeat on. */
function stepsOf(segments: readonly Segment[], places: readonly (BandPlace | null)[]): Step[] {
  const at = new Map(places.flatMap((p, s) => (p ? [[`${p.band},${p.repeat}`, s] as const] : [])));
  const middle = (segments[0].from + segments[segments.length - 1].to) / 2;
  return places.flatMap((p, s) => {
    const next = p && at.get(`${p.band},${p.repeat + 1}`);
    // The first segment of all begins where the picture does.
    if (next == null || s === 0) return [];
    const from = segments[s].from;
    const to = segments[next].from;
    return { outer: (from + to) / 2 > middle ? next : s, at: (from + to) / 2, columns: to - from };
  });
}
