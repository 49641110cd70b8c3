import { ciede2000 } from '../colour/ciede2000.js';
import type { Segment } from './segment.js';

/** Segments of one stretch of cloth; a ruler lying along the stripes parts a picture into several. */
export type SegmentRun = readonly Segment[];

export interface RepeatCandidate {
  /** Bands in one repeat. */
  readonly n: number;
  /** Share of segments that find their like n further on. */
  readonly score: number;
}

/** Colours nearer than this (CIEDE2000) may be one colour in uneven light; the F test decides later. */
export const ALIKE = 9;
/** A missed or split band shows as a jump in width; unevenness and perspective stay well inside this ratio. */
export const WIDTH_RATIO = 1.45;
/** More bands than any cloth on record has in one repeat; bounds the work on fine ticking. */
const MOST_BANDS = 90;
/** Missed and false edges spoil pairs on either side of them. */
const LEAST_SCORE = 0.6;

/** A length in columns at which the profile resembles itself. */
export interface Lag {
  readonly repeatColumns: number;
  /** Height of the autocorrelation's peak, 0..1. */
  readonly confidence: number;
}

/**
 * Numbers of bands after which colours and widths mostly come again, shortest first: by counting segments, and, since a few wrong
 * edges spoil a long count, by the bands that lie within each lag of the profile's autocorrelation.
 */
export function repeatCandidates(runs: readonly SegmentRun[], lags: readonly Lag[]): RepeatCandidate[] {
  const longest = Math.max(...runs.map((r) => r.length));
  const held = new Map<number, number>();
  const most = Math.min(MOST_BANDS, longest - 3);
  for (let n = 1; n <= most; n++) {
    const { pairs, unlike } = unlikePairs(runs, n);
    if (pairs >= 3 && unlike <= (1 - LEAST_SCORE) * pairs) held.set(n, 1 - unlike / pairs);
  }
  for (const lag of lags) {
    const found = bandsWithin(runs, lag.repeatColumns);
    if (found && found.n <= most && !held.has(found.n)) held.set(found.n, found.score);
  }
  return [...held].map(([n, score]) => ({ n, score })).sort((p, q) => p.n - q.n);
}

/** How many bands most often lie between a band and its like one lag further on, and for what share of the bands. */
function bandsWithin(runs: readonly SegmentRun[], lag: number): RepeatCandidate | null {
  const counts = new Map<number, number>();
  let tried = 0;
  for (const run of runs) {
    run.forEach((p, i) => {
      const wanted = p.from + lag;
      if (i === 0 || wanted > run[run.length - 1].from) return;
      tried++;
      // Perspective and unevenness move the place by several percent of a lag.
      const like = run.findIndex(
        (q, j) => j > i && Math.abs(q.from - wanted) < 0.06 * lag + 3 && ciede2000(p.lab, q.lab) <= ALIKE,
      );
      if (like > 0) counts.set(like - i, (counts.get(like - i) ?? 0) + 1);
    });
  }
  const [best] = [...counts].sort((p, q) => q[1] - p[1]);
  return best && best[1] >= 4 && best[1] >= 0.3 * tried ? { n: best[0], score: best[1] / tried } : null;
}

function unlikePairs(runs: readonly SegmentRun[], n: number): { pairs: number; unlike: number } {
  let pairs = 0;
  let unlike = 0;
  for (const run of runs) {
    const last = run.length - 1;
    for (let i = 0; i + n <= last; i++) {
      pairs++;
      const p = run[i];
      const q = run[i + n];
      const ratio = (q.to - q.from) / (p.to - p.from);
      const whole = i > 0 && i + n < last;
      if (whole && (ratio > WIDTH_RATIO || ratio < 1 / WIDTH_RATIO)) unlike++;
      else if (ciede2000(p.lab, q.lab) > ALIKE) unlike++;
    }
  }
  return { pairs, unlike };
}
