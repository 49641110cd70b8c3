import { Matrix, solve } from 'ml-matrix';
import { ciede2000 } from '../colour/ciede2000.js';
import { autocorrelation } from '../math/autocorrelation.js';
import { fTailProbability } from '../math/f-test.js';
import type { Segment } from './band-segments.js';
import type { CrossProfile } from './cross-profile.js';

export interface RepeatFinding {
  readonly bandsPerRepeat: number;
  /** At the middle of the picture, columns. */
  readonly repeatColumns: number;
  readonly repeatsSeen: number;
  /** 0..1. */
  readonly confidence: number;
  /** Class of each segment: 0..bandsPerRepeat-1, and which repeat it belongs to; null where it does not fit. */
  readonly places: readonly ({ readonly band: number; readonly repeat: number } | null)[];
}

export interface RepeatSearch {
  readonly finding: RepeatFinding | null;
  /** Other lengths that came close, best first; columns. */
  readonly alternatives: readonly { readonly repeatColumns: number; readonly confidence: number }[];
}

/** Colours nearer than this (CIEDE2000) may be one colour in uneven light; the F test decides later. */
const ALIKE = 9;
/** A longer repeat is taken only if chance would make it look that much better once in ten thousand times. */
const CHANCE = 1e-4;

/**
 * Finds how many bands make one repeat.
 *
 * Candidates: every number of bands after which colours and widths come again, those at peaks of the Fourier
 * autocorrelation first. The shortest that holds is tested against its multiples: a multiple always fits better, and is
 * taken only where the gain in colour or width is beyond what the scatter between its own repeats explains (F test;
 * A B A C with B close to C). Widths may stretch smoothly across the picture (perspective) and lightness drift.
 */
export function searchRepeat(segments: readonly Segment[], profile: CrossProfile): RepeatSearch {
  const total = segments.length;
  const candidates: { n: number; score: number }[] = [];
  for (let n = 1; n <= total - 3; n++) {
    const score = agreementAt(segments, n);
    if (score >= 0.8) candidates.push({ n, score });
  }
  const lags = correlationPeaks(profile);
  if (candidates.length === 0) return { finding: null, alternatives: lags.slice(0, 3) };
  let chosen = candidates[0];
  for (const next of candidates) {
    if (next.n % chosen.n !== 0 || next.n === chosen.n) continue;
    if (isBetter(segments, chosen.n, next.n)) chosen = next;
  }
  const finding = describe(segments, chosen.n, chosen.score, lags);
  const near = (a: number, b: number) => Math.abs(a / b - 1) < 0.04;
  const others = candidates
    .filter((c) => c.n !== chosen.n)
    .map((c) => ({
      repeatColumns: (finding.repeatColumns * c.n) / chosen.n,
      confidence: Math.min(0.5, 0.5 * c.score * (1 - finding.confidence) + 0.05),
    }));
  const rest = lags
    .filter((l) => !near(l.repeatColumns, finding.repeatColumns))
    .map((l) => ({ ...l, confidence: l.confidence * (1 - finding.confidence) }));
  const alternatives: { repeatColumns: number; confidence: number }[] = [];
  for (const a of [...rest, ...others].sort((p, q) => q.confidence - p.confidence)) {
    if (!alternatives.some((b) => near(a.repeatColumns, b.repeatColumns))) alternatives.push(a);
  }
  return { finding, alternatives: alternatives.slice(0, 3) };
}

/** Share of segments that find their like n further on, in colour and (for whole bands) in width. */
function agreementAt(segments: readonly Segment[], n: number): number {
  const last = segments.length - 1;
  let alike = 0;
  let pairs = 0;
  for (let i = 0; i + n <= last; i++) {
    const p = segments[i];
    const q = segments[i + n];
    pairs++;
    if (ciede2000(p.lab, q.lab) > ALIKE) continue;
    if (i > 0 && i + n < last) {
      const ratio = (q.to - q.from) / (p.to - p.from);
      // A missed or split band shows as a jump; unevenness and perspective stay well inside a third.
      if (ratio > 1.45 || ratio < 1 / 1.45) continue;
    }
    alike++;
  }
  return pairs >= 3 ? alike / pairs : 0;
}

/** Columns of the variables that a repeat must reproduce: log width (whole bands only), L, a, b. */
function readings(segments: readonly Segment[]): { x: number; values: number[] }[] {
  const middle = (segments[0].from + segments[segments.length - 1].to) / 2;
  const half = (segments[segments.length - 1].to - segments[0].from) / 2;
  return segments.map((s, i) => {
    const whole = i > 0 && i < segments.length - 1;
    return {
      x: ((s.from + s.to) / 2 - middle) / half,
      values: [whole ? Math.log(s.to - s.from) : Number.NaN, s.lab[0], s.lab[1], s.lab[2]],
    };
  });
}

/** Does the period m explain more than its multiple's extra classes would by chance? */
function isBetter(segments: readonly Segment[], n: number, m: number): boolean {
  const rows = readings(segments);
  for (let v = 0; v < 4; v++) {
    const short = classResidual(rows, v, n);
    const long = classResidual(rows, v, m);
    if (short === null || long === null) continue;
    const d1 = long.parameters - short.parameters;
    const d2 = long.count - long.parameters;
    if (d1 < 1 || d2 < 3) continue;
    // Floors: a pixel's hundredth of width, a tenth of a unit of colour, below which nothing is known.
    const floor = (v === 0 ? 0.003 : 0.1) ** 2 * d2;
    const f = (short.rss - long.rss) / d1 / (Math.max(long.rss, floor) / d2);
    if (fTailProbability(f, d1, d2) < CHANCE) return true;
  }
  return false;
}

/** Residual of one variable about its class means, with a smooth drift (quadratic in x) common to all classes. */
function classResidual(
  rows: readonly { readonly x: number; readonly values: readonly number[] }[],
  variable: number,
  n: number,
): { rss: number; count: number; parameters: number } | null {
  const used = rows
    .map((r, i) => ({ x: r.x, value: r.values[variable], band: i % n }))
    .filter((r) => !Number.isNaN(r.value));
  const classes = new Set(used.map((r) => r.band)).size;
  const drift = 2;
  if (used.length < classes + drift + 1) return null;
  const index = new Map([...new Set(used.map((r) => r.band))].map((b, i) => [b, i]));
  const a = Matrix.zeros(used.length, classes + drift);
  const b = Matrix.zeros(used.length, 1);
  used.forEach((r, i) => {
    a.set(i, index.get(r.band) as number, 1);
    a.set(i, classes, r.x);
    a.set(i, classes + 1, r.x * r.x - 1 / 3);
    b.set(i, 0, r.value);
  });
  const normal = a.transpose().mmul(a);
  for (let i = 0; i < normal.rows; i++) normal.set(i, i, normal.get(i, i) + 1e-9);
  const p = solve(normal, a.transpose().mmul(b));
  const misses = Matrix.sub(b, a.mmul(p));
  let rss = 0;
  for (let i = 0; i < used.length; i++) rss += misses.get(i, 0) ** 2;
  return { rss, count: used.length, parameters: classes + drift };
}

function describe(
  segments: readonly Segment[],
  n: number,
  score: number,
  lags: readonly { readonly repeatColumns: number; readonly confidence: number }[],
): RepeatFinding {
  // Distances between like edges n apart, taken at the middle of the picture.
  const last = segments.length - 1;
  const spans: { at: number; span: number }[] = [];
  for (let i = 1; i + n <= last; i++) {
    spans.push({
      at: (segments[i].from + segments[i + n].from) / 2,
      span: segments[i + n].from - segments[i].from,
    });
  }
  const middle = (segments[0].from + segments[last].to) / 2;
  const repeatColumns =
    spans.length > 0
      ? spans.reduce((best, s) => (Math.abs(s.at - middle) < Math.abs(best.at - middle) ? s : best)).span
      : segments[last].from - segments[0].to;
  const repeatsSeen = (segments[last].to - segments[0].from) / repeatColumns;
  const correlated = lags.some((l) => Math.abs(l.repeatColumns / repeatColumns - 1) < 0.08);
  const seen = repeatsSeen >= 3 ? 0.99 : repeatsSeen >= 2 ? 0.95 : 0.25 + 0.35 * Math.max(0, repeatsSeen - 1);
  const confidence = seen * score * (correlated || repeatsSeen < 2 ? 1 : 0.9);
  const places = segments.map((s, i) => {
    const like = segments.filter((_, j) => j % n === i % n);
    const fits = like.filter((q) => ciede2000(s.lab, q.lab) <= 2 * ALIKE).length;
    return fits * 2 >= like.length ? { band: i % n, repeat: Math.floor(i / n) } : null;
  });
  return { bandsPerRepeat: n, repeatColumns, repeatsSeen, confidence, places };
}

/** Peaks of the profile's autocorrelation: lag in columns, and the correlation as a first confidence. */
function correlationPeaks({ lab, from, to }: CrossProfile): { repeatColumns: number; confidence: number }[] {
  const n = to - from;
  const step = Math.max(1, Math.ceil(n / 1024));
  const count = Math.floor(n / step);
  if (count < 16) return [];
  const channels = [0, 1, 2].map((c) =>
    Float64Array.from({ length: count }, (_, i) => lab[3 * (from + i * step) + c]),
  );
  const r = autocorrelation(channels);
  const peaks: { repeatColumns: number; confidence: number }[] = [];
  for (let lag = 2; lag < count - 1; lag++) {
    if (r[lag] < 0.3 || r[lag] < r[lag - 1] || r[lag] <= r[lag + 1]) continue;
    const bend = r[lag - 1] - 2 * r[lag] + r[lag + 1];
    const shift = bend < 0 ? (0.5 * (r[lag - 1] - r[lag + 1])) / bend : 0;
    peaks.push({ repeatColumns: (lag + shift) * step, confidence: Math.min(1, r[lag]) });
  }
  return peaks.sort((p, q) => q.confidence - p.confidence).slice(0, 12);
}
