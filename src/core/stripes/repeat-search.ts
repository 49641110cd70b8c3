import { autocorrelation } from '../math/autocorrelation.js';
import { median } from '../math/robust.js';
import type { CrossProfile } from './cross-profile.js';
import type { LightField } from './light-field.js';
import { type BandReading, isLongerRepeat } from './period-test.js';
import { type Lag, repeatCandidates, type SegmentRun } from './repeat-candidates.js';
import { shortestRepeat } from './shortest-repeat.js';
import { fitStretch, repeatAt } from './stretch-fit.js';
import type { BandPlace } from './stripe-reading.js';

export interface RepeatFinding {
  readonly bandsPerRepeat: number;
  /** At the middle of the picture, columns. */
  readonly repeatColumns: number;
  readonly repeatsSeen: number;
  /** 0..1. */
  readonly confidence: number;
  /** Place of each segment, runs one after another; null where it does not fit. */
  readonly places: readonly (BandPlace | null)[];
}

export interface RepeatSearch {
  readonly finding: RepeatFinding | null;
  /** Other lengths that came close, best first; columns. */
  readonly alternatives: readonly Lag[];
}

/**
 * Finds how many bands make one repeat, and each segment's place in it.
 *
 * Candidates: every number of bands after which colours and widths come again. The shortest that holds is tested against its
 * multiples: a multiple always fits better, and is taken only where the gain in colour or width is beyond what the
 * scatter between its own repeats explains (A B A C with B close to C). Widths may stretch smoothly across the
 * picture and lightness drift. The Fourier autocorrelation of the profile, which knows nothing of the bands, must agree for
 * full confidence, and names runners-up.
 */
export function searchRepeat(
  runs: readonly SegmentRun[],
  lags: readonly Lag[],
  light: LightField,
): RepeatSearch {
  const shortest = shortestRepeat(runs, lags, light);
  if (shortest === null) return { finding: null, alternatives: lags.slice(0, 3) };
  const { counts, defects } = shortest;
  const rows = bandReadings(runs, counts);
  const total = counts.length;
  let bands = shortest.n;
  // A longer repeat must itself come again, or nothing speaks for it but its own freedom.
  for (let next = 2 * shortest.n; 2 * next <= total; next += shortest.n) {
    if (next % bands === 0 && isLongerRepeat(rows, bands, next)) bands = next;
  }
  const finding = describe(runs, counts, bands, 1 - defects / total, lags);
  const others = repeatCandidates(runs, lags)
    .filter((c) => c.n !== bands)
    .map((c) => ({
      repeatColumns: (finding.repeatColumns * c.n) / bands,
      confidence: Math.min(0.5, 0.5 * c.score * (1 - finding.confidence) + 0.05),
    }));
  const rest = lags.map((l) => ({ ...l, confidence: l.confidence * (1 - finding.confidence) }));
  const near = (p: Lag, q: Lag) => Math.abs(p.repeatColumns / q.repeatColumns - 1) < 0.04;
  const alternatives: Lag[] = [];
  for (const a of [...rest, ...others].sort((p, q) => q.confidence - p.confidence)) {
    if (!near(a, finding) && !alternatives.some((b) => near(a, b))) alternatives.push(a);
  }
  return { finding, alternatives: alternatives.slice(0, 3) };
}

/** Band and repeat of every segment from its count. */
export const placesOf = (counts: readonly (number | null)[], n: number): (BandPlace | null)[] =>
  counts.map((count) =>
    count === null ? null : { band: ((count % n) + n) % n, repeat: Math.floor(count / n) },
  );

function bandReadings(runs: readonly SegmentRun[], counts: readonly (number | null)[]): BandReading[] {
  const segments = runs.flat();
  const cut = runs.flatMap((r) => r.map((_, i) => i === 0 || i === r.length - 1));
  const from = segments[0].from;
  const to = segments[segments.length - 1].to;
  return segments.flatMap((s, i) => {
    const count = counts[i];
    if (count === null) return [];
    const width = cut[i] ? Number.NaN : Math.log(s.to - s.from);
    const x = (s.from + s.to - from - to) / (to - from);
    return [{ count, x, width: s.to - s.from, values: [width, ...s.lab] }];
  });
}

function describe(
  runs: readonly SegmentRun[],
  counts: readonly (number | null)[],
  n: number,
  fitting: number,
  lags: readonly Lag[],
): RepeatFinding {
  const segments = runs.flat();
  const begins = runs.flatMap((r) => r.map((_, i) => i > 0));
  const first = segments[0].from;
  const last = segments[segments.length - 1].to;
  const widths = Array.from({ length: n }, (_, b) => {
    const own = segments.filter((_, i) => counts[i] !== null && (((counts[i] ?? 0) % n) + n) % n === b);
    return own.length > 0 ? median(own.map((s) => s.to - s.from)) : 0;
  });
  const sum = widths.reduce((s, w) => s + w, 0);
  let start = 0;
  const offsets = widths.map((w) => {
    const at = start / sum;
    start += w;
    return at;
  });
  const fit = fitStretch(
    segments.map((s) => s.from),
    counts.map((c, i) => (begins[i] ? c : null)),
    offsets,
  );
  const repeatColumns = fit ? repeatAt(fit, (first + last) / 2) : sum;
  const repeatsSeen = runs.reduce((s, r) => s + r[r.length - 1].to - r[0].from, 0) / repeatColumns;
  const correlated = lags.some((l) => Math.abs(l.repeatColumns / repeatColumns - 1) < 0.08);
  const seen = repeatsSeen >= 3 ? 0.99 : repeatsSeen >= 2 ? 0.95 : 0.25 + 0.35 * Math.max(0, repeatsSeen - 1);
  const confidence = seen * Math.max(0, fitting) * (correlated || repeatsSeen < 2 ? 1 : 0.9);
  return { bandsPerRepeat: n, repeatColumns, repeatsSeen, confidence, places: placesOf(counts, n) };
}

/** Peaks of the profile's autocorrelation, highest first: the correlation serves as a first confidence. */
export function correlationPeaks({ lab, from, to }: CrossProfile): Lag[] {
  const n = to - from;
  const step = Math.max(1, Math.ceil(n / 1024));
  const count = Math.floor(n / step);
  if (count < 16) return [];
  const channels = [0, 1, 2].map((c) =>
    Float64Array.from({ length: count }, (_, i) => lab[3 * (from + i * step) + c]),
  );
  const r = autocorrelation(channels);
  const peaks: Lag[] = [];
  for (let lag = 2; lag < count - 1; lag++) {
    if (r[lag] < 0.3 || r[lag] < r[lag - 1] || r[lag] <= r[lag + 1]) continue;
    const bend = r[lag - 1] - 2 * r[lag] + r[lag + 1];
    const shift = bend < 0 ? (0.5 * (r[lag - 1] - r[lag + 1])) / bend : 0;
    peaks.push({ repeatColumns: (lag + shift) * step, confidence: Math.min(1, r[lag]) });
  }
  return peaks.sort((p, q) => q.confidence - p.confidence).slice(0, 12);
}
