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
const WIDTH_RATIO = 1.45;
/** More bands than any cloth on record has in one repeat; bounds the work on fine ticking. */
const MOST_BANDS = 90;
/** Up to a quarter of the pairs may be spoilt by missed or false edges. */
const LEAST_SCORE = 0.75;

/**
 * Numbers of bands after which colours and widths come again, shortest first. One that leaves clearly more pairs unlike than the
 * best does is no repeat: A B A B A B C nearly comes again after two bands, but not where C stands.
 */
export function repeatCandidates(runs: readonly SegmentRun[]): RepeatCandidate[] {
  const longest = Math.max(...runs.map((r) => r.length));
  const total = runs.reduce((sum, r) => sum + r.length, 0);
  const tried: { n: number; pairs: number; unlike: number }[] = [];
  for (let n = 1; n <= Math.min(MOST_BANDS, longest - 3); n++) tried.push({ n, ...unlikePairs(runs, n) });
  const held = tried.filter((t) => t.pairs >= 3 && t.unlike <= (1 - LEAST_SCORE) * t.pairs);
  const least = Math.min(...held.filter((t) => t.pairs >= total / 3).map((t) => t.unlike), total);
  return held
    .filter((t) => t.unlike <= 3 + 2 * least)
    .map((t) => ({ n: t.n, score: 1 - t.unlike / t.pairs }));
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
