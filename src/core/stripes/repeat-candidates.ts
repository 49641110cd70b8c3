import { cie76 } from '../colour/cie76.js';
import { ciede2000 } from '../colour/ciede2000.js';
import type { Lab } from '../colour/lab.js';
import { median } from '../math/robust.js';
import type { Segment } from './segment.js';

/** A stretch of bands that may be one repeat. */
export interface RepeatCandidate {
  readonly bands: readonly Segment[];
  /** Middle of the stretch, column. */
  readonly column: number;
}

/** Colours nearer than this (CIEDE2000) may be one colour in uneven light. */
export const ALIKE = 9;
/** A missed or split band shows as a jump in width; unevenness and perspective stay well inside this. */
export const WIDTH_JUMP = 1.45;
/** Neighbouring bands are further apart than the first (CIEDE2000), or than half the step between others up to the second. */
const ONE_BAND = [1.5, 3] as const;
/** Stretches tried for one number of bands. */
const STRETCHES = 2;

/**
 * Stretches of bands that come again next to themselves, the fewest bands first. A wrongly split or missed band spoils the count
 * of all bands after it, so what is asked is not that the whole row agrees, but that somewhere two repeats follow each
 * other band by band; with less than two repeats in view, that all there is agrees.
 */
export function repeatCandidates(runs: readonly (readonly Segment[])[]): RepeatCandidate[] {
  const found: { n: number; agreed: number; candidate: RepeatCandidate }[] = [];
  for (const segments of runs) {
    const alike = likeness(segments);
    const total = segments.length;
    for (let n = 2; n <= total - 2; n++) {
      const stretches = agreeingStretches(total, n, alike)
        .filter(({ from, to }) => to - from >= Math.min(n, total - n - 1) && to - from >= 3)
        .sort((p, q) => q.to - q.from - (p.to - p.from))
        .slice(0, STRETCHES);
      for (const { from, to } of stretches) {
        for (const first of startsIn(segments, Math.max(1, from), Math.min(total - 1 - n, to), n)) {
          const bands = segments.slice(first, first + n);
          if (n > 2 && endsInOneBand(bands)) continue;
          found.push({
            n,
            agreed: to - from,
            candidate: { bands, column: (bands[0].from + bands[n - 1].to) / 2 },
          });
        }
      }
    }
  }
  found.sort((p, q) => p.n - q.n || q.agreed - p.agreed);
  // Partitions of one profile often have the same stretch.
  const known = new Set<string>();
  return found.flatMap(({ candidate }) => {
    const edges = candidate.bands.map((band) => Math.round(2 * band.from)).join();
    if (known.has(edges)) return [];
    known.add(edges);
    return [candidate];
  });
}

/** Bands this far off the others of theirs (CIE76), beside twice what the best are, are odd. */
const ODD = 1;

/**
 * Where, between two places of a stretch, n bands that may speak for all begin: at the middle, where tilt and light differ least from
 * those of the rest; where these are unlike the others of theirs (a print or a shadow over them), at the next that are not, too.
 */
function startsIn(segments: readonly Segment[], from: number, last: number, n: number): number[] {
  if (last < from) return [];
  const off = new Float64Array(segments.length);
  for (let phase = 0; phase < n; phase++) {
    const own: Segment[] = [];
    for (let i = from + phase; i < last + n; i += n) own.push(segments[i]);
    const typical = [0, 1, 2].map((c) => median(own.map(({ lab }) => lab[c]))) as unknown as Lab;
    own.forEach(({ lab }, k) => {
      off[from + phase + k * n] = cie76(lab, typical);
    });
  }
  const starts = Array.from({ length: last - from + 1 }, (_, i) => from + i);
  const sums = starts.map((first) => off.subarray(first, first + n).reduce((s, v) => s + v, 0));
  const limit = 2 * Math.min(...sums) + ODD * n;
  const middle = Math.max(0, (last - from - n) >> 1);
  if (sums[middle] <= limit) return [from + middle];
  const next = starts
    .filter((_, i) => sums[i] <= limit)
    .reduce((best, first) =>
      Math.abs(first - from - middle) < Math.abs(best - from - middle) ? first : best,
    );
  return [from + middle, next];
}

/** Whether the last band would meet its own like at the start of the next repeat: that is one band cut in two. */
function endsInOneBand(bands: readonly Segment[]): boolean {
  const steps = bands.slice(1).map((band, i) => ciede2000(bands[i].lab, band.lab));
  const limit = Math.max(ONE_BAND[0], Math.min(ONE_BAND[1], Math.min(...steps) / 2));
  return ciede2000(bands[0].lab, bands[bands.length - 1].lab) < limit;
}

/** Maximal stretches of places i at which bands i and i + n agree, half open. */
function agreeingStretches(
  total: number,
  n: number,
  alike: (i: number, j: number) => boolean,
): { from: number; to: number }[] {
  const stretches: { from: number; to: number }[] = [];
  let from = 0;
  for (let i = 0; i + n <= total; i++) {
    if (i + n < total && alike(i, i + n)) continue;
    if (i > from) stretches.push({ from, to: i });
    from = i + 1;
  }
  return stretches;
}

/** Whether two bands of a row may be the same band of the repeat; those at the row's ends may be cut off. */
function likeness(segments: readonly Segment[]): (i: number, j: number) => boolean {
  const last = segments.length - 1;
  const widths = segments.map((s) => s.to - s.from);
  return (i, j) => {
    if (i > 0 && j < last) {
      const ratio = widths[j] / widths[i];
      if (ratio > WIDTH_JUMP || ratio < 1 / WIDTH_JUMP) {
        // A band of two or three columns may differ by one.
        if (Math.abs(widths[j] - widths[i]) > 1.2) return false;
      }
    }
    return areAlike(segments[i], segments[j]);
  };
}

/** CIEDE2000 only where CIE76 leaves it open: it is never over 2.5 times nor, in dark colours, under a quarter of that. */
function areAlike({ lab: p }: Segment, { lab: q }: Segment): boolean {
  const apart = cie76(p, q);
  if (apart < 3) return true;
  if (apart > 5 * ALIKE) return false;
  return ciede2000(p, q) <= ALIKE;
}
