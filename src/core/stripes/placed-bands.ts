import type { Spread } from './band-statistics.js';
import type { BandPlace, RoughReading } from './stripe-reading.js';

/** From this many windows on an instance counts: two at a corner tell a chance thickening from its width no better than one. */
export const FEWEST_WINDOWS = 3;

/** A band where it was seen, by its edges. */
export interface PlacedBand {
  readonly segment: number;
  readonly place: BandPlace | null;
  /** NaN where the edge was not seen. */
  readonly startMm: number;
  readonly endMm: number;
  /** Over the windows along the stripes. */
  readonly width: Spread;
}

export const whole = (p: PlacedBand): boolean => p.width.count >= FEWEST_WINDOWS;

/** The longest row of bands that follow on each other: one hidden by a ruler, or cut off, ends a row. */
export function longestRow(placed: readonly PlacedBand[]): readonly PlacedBand[] {
  const rows: PlacedBand[][] = [];
  for (const p of placed) {
    const row = rows[rows.length - 1];
    if (row?.[row.length - 1].segment === p.segment - 1) row.push(p);
    else rows.push([p]);
  }
  return rows.reduce((most, row) => (row.length > most.length ? row : most), []);
}

/** Part of the view across the stripes that bands with both their edges in view take up. */
export function wholePart({ segments }: RoughReading, placed: readonly PlacedBand[]): number {
  const columnsOf = ({ from, to }: RoughReading['segments'][number]): number => to - from;
  const all = segments.reduce((sum, segment) => sum + columnsOf(segment), 0);
  const own = placed.filter(whole).reduce((sum, { segment }) => sum + columnsOf(segments[segment]), 0);
  return own / all;
}

/** Neighbouring edges lie as far apart as the band between them is wide, to this part of it; else no stripe runs there. */
const TORN = 0.25;

export const isTorn = (placed: readonly PlacedBand[]): boolean =>
  longestRow(placed.filter(whole)).some(
    ({ startMm, endMm, width }) => Math.abs(endMm - startMm - width.mean) > TORN * width.mean,
  );
