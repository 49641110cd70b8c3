import { cie76 } from '../colour/cie76.js';
import { median, quantile } from '../math/robust.js';
import type { CrossProfile } from './cross-profile.js';
import { edgeBlur } from './edge-blur.js';
import { lineOver } from './line-over.js';
import { partition } from './partition.js';
import type { Segment } from './segment.js';

export interface BandReading {
  readonly segments: readonly Segment[];
  /** The same with a colour that runs on through a boundary taken for one band, at the risk of joining two faint ones; null where none does. */
  readonly shaded: readonly Segment[] | null;
  /** Standard deviation of a column's colour, CIELAB units. */
  readonly noise: number;
}

/**
 * Bands of a profile by optimal partition. The penalty follows the profile's own noise; boundaries that carry no step of
 * their own (a slow drift of light cut in pieces) are closed again, and pieces that are only the blur between two bands are
 * dealt to their neighbours.
 *
 * @param narrow Looks for bands hardly wider than their blur, too, at the risk of taking blur for bands.
 */
export function bandSegments(
  whole: CrossProfile,
  [from, to]: readonly [number, number] = [whole.from, whole.to],
  narrow = false,
): BandReading {
  const profile = { ...whole, from, to };
  const { lab } = profile;
  const noise = profileNoise(lab, from, to);
  const faintest = Math.max(1.5, 4 * noise);
  const penalty = changePenalty(noise, to - from);
  // From a twentieth to nineteen twentieths of a blurred step are 3.3 standard deviations.
  const blur = 3.3 * edgeBlur(profile.linear, from, to);
  const half = Math.max(1, Math.ceil(blur / 2) - (narrow ? 1 : 0));
  // Photos keep colour at half the resolution of lightness at worst.
  const chroma = 3.3 * edgeBlur(opponents(profile.linear), from, to);
  const halfChroma = Math.max(half, Math.min(2 * half, Math.ceil(chroma / 2) - (narrow ? 1 : 0)));
  let starts = partition(lab, from, to, penalty, [half, halfChroma, halfChroma]);
  starts = withoutDrift(profile, starts, faintest, false);
  starts = withoutBlur(profile, starts, blur + 1);
  starts = withoutDrift(profile, starts, faintest, false);
  const fewer = withoutDrift(profile, starts, faintest, true);
  return {
    segments: segmentsBetween(profile, starts),
    shaded: fewer.length < starts.length ? segmentsBetween(profile, fewer) : null,
    noise,
  };
}

/** Red and blue less luminance, linear light: what of a colour a photo keeps more coarsely. Three values a column, the last 0. */
function opponents(linear: ArrayLike<number>): Float32Array {
  const out = new Float32Array(linear.length);
  for (let i = 0; i < out.length; i += 3) {
    const luminance = 0.2126 * linear[i] + 0.7152 * linear[i + 1] + 0.0722 * linear[i + 2];
    out[i] = linear[i] - luminance;
    out[i + 1] = linear[i + 2] - luminance;
  }
  return out;
}

/** Columns are not told apart better than this, whatever their scatter (CIE76): an edge's blur and chroma reach far. */
const LEAST_NOISE = 0.8;

/** 3 channels and 2 ln n for a change (Schwarz 1978), doubled since neighbouring columns share noise (weave, blur). */
const changePenalty = (noise: number, columns: number): number =>
  2 * Math.max(LEAST_NOISE, noise) ** 2 * (3 + 2 * Math.log(Math.max(2, columns))) * 2;

/**
 * Standard deviation of a column's colour, from second differences (bands and slow drift drop out). Where bands are so
 * narrow that most columns lie at an edge, only the quieter columns tell it.
 */
function profileNoise(lab: ArrayLike<number>, from: number, to: number): number {
  const sizes: number[] = [];
  for (let x = from + 1; x < to - 1; x++) {
    let sum = 0;
    for (let c = 0; c < 3; c++) {
      const d = 2 * lab[3 * x + c] - lab[3 * (x - 1) + c] - lab[3 * (x + 1) + c];
      sum += d * d;
    }
    sizes.push(Math.sqrt(sum / 3));
  }
  if (sizes.length === 0) return 1;
  // Root mean square of three normal values: its median is 0.888 and its lower fifth 0.579 standard deviations.
  return Math.min(median(sizes) / 0.888, quantile(sizes, 0.2) / 0.579) / Math.sqrt(6);
}

/** Mean colour of columns a..b (half open, clipped to the piece that holds them). */
function meanOf(values: ArrayLike<number>, a: number, b: number): [number, number, number] {
  const sum: [number, number, number] = [0, 0, 0];
  for (let x = a; x < b; x++) for (let c = 0; c < 3; c++) sum[c] += values[3 * x + c];
  const n = Math.max(1, b - a);
  return [sum[0] / n, sum[1] / n, sum[2] / n];
}

/** Columns on either side of a boundary that tell its step. */
const CLOSE_BY = 8;
/** Columns on either side along which a drift is followed, at least and at most. */
const DRIFT_OVER = [8, 32] as const;
/** A drift's own slope on either side explains this much of the difference between them, each side a good part of it. */
const EXPLAINED = 0.55;
const EACH_SIDE = 0.25;

/** Whether the colour runs through a boundary as it runs on either side of it: light that falls off, or a shaded band. */
function isDrift(lab: ArrayLike<number>, before: number, boundary: number, after: number): boolean {
  const room = Math.min(boundary - before, after - boundary) - 2;
  if (room < DRIFT_OVER[0]) return false;
  const n = Math.min(room, DRIFT_OVER[1]);
  const left = lineOver(lab, boundary - 1 - n, n);
  const right = lineOver(lab, boundary + 1, n);
  const difference = [0, 1, 2].map((c) => right.mean[c] - left.mean[c]);
  const square = difference.reduce((s, d) => s + d * d, 0);
  // What each slope alone would make of the way from one side's middle to the other's, as a part of the difference.
  const part = ({ slope }: { slope: readonly number[] }): number =>
    ((n + 2) * difference.reduce((s, d, c) => s + d * slope[c], 0)) / Math.max(1e-9, square);
  const [p, q] = [part(left), part(right)];
  return Math.min(p, q) > EACH_SIDE && (p + q) / 2 > EXPLAINED;
}

/** Closes boundaries whose step, judged close by on either side, is below `least` (CIE76), the faintest first. */
function withoutDrift(
  { lab, from, to }: CrossProfile,
  starts: readonly number[],
  least: number,
  shaded: boolean,
): number[] {
  const kept = [...starts];
  for (;;) {
    let faintest = -1;
    let size = least;
    for (let i = 0; i < kept.length; i++) {
      const before = i > 0 ? kept[i - 1] : from;
      const after = i + 1 < kept.length ? kept[i + 1] : to;
      const stepWithin = (reach: number): number => {
        const left = meanOf(lab, Math.max(before, kept[i] - reach), Math.max(before + 1, kept[i] - 1));
        const right = meanOf(lab, Math.min(after - 1, kept[i] + 1), Math.min(after, kept[i] + reach));
        return cie76(left, right);
      };
      // A thread of the weave has no step further off.
      const further = Math.floor(Math.min(kept[i] - before, after - kept[i]) / 3);
      const step =
        shaded && isDrift(lab, before, kept[i], after)
          ? 0
          : Math.min(stepWithin(CLOSE_BY), stepWithin(Math.max(CLOSE_BY, further)));
      if (step < size) {
        size = step;
        faintest = i;
      }
    }
    if (faintest < 0) return kept;
    kept.splice(faintest, 1);
  }
}

/** Removes pieces no longer than the blur whose colour lies between their neighbours' in lightness, a and b alike. */
function withoutBlur({ lab, from, to }: CrossProfile, starts: readonly number[], longest: number): number[] {
  const kept = [...starts];
  for (let i = 0; i + 1 < kept.length; ) {
    const a = kept[i];
    const b = kept[i + 1];
    const before = i > 0 ? kept[i - 1] : from;
    const after = i + 2 < kept.length ? kept[i + 2] : to;
    const left = meanOf(lab, Math.max(before, a - 8), Math.max(before + 1, a - 2));
    const right = meanOf(lab, Math.min(after - 1, b + 2), Math.min(after, b + 8));
    const own = meanOf(lab, a, b);
    if (b - a > longest || !isBetween(own, left, right)) {
      i++;
      continue;
    }
    kept.splice(i, 2, cie76(own, left) > cie76(own, right) ? a : b);
    if (i > 0) i--;
  }
  return kept;
}

/** Each of lightness, a and b between those of two colours, or hardly outside: blur reaches further in colour than in lightness. */
export const isBetween = (own: readonly number[], p: readonly number[], q: readonly number[]): boolean =>
  own.every((v, c) => v > Math.min(p[c], q[c]) - 1.5 && v < Math.max(p[c], q[c]) + 1.5);

/** Bands between the given boundaries (columns, ascending) of a run of the profile, their edges to a part of a column. */
export function segmentsBetween(profile: CrossProfile, starts: readonly number[]): Segment[] {
  const { lab, linear, from, to } = profile;
  const bounds = [from, ...starts, to];
  const inner = (a: number, b: number): [number, number] => {
    const margin = Math.min(2, Math.floor((b - a - 1) / 2));
    return [a + margin, b - margin];
  };
  const plain = bounds.slice(0, -1).map((a, i) => {
    const [p, q] = inner(a, bounds[i + 1]);
    return { lab: meanOf(lab, p, q), linear: meanOf(linear, p, q) };
  });
  const edges = starts.map((s, i) => crossing(linear, s, plain[i].linear, plain[i + 1].linear));
  return plain.map((p, i) => ({
    from: i === 0 ? from : edges[i - 1],
    to: i === plain.length - 1 ? to : edges[i],
    lab: p.lab,
    linear: p.linear,
  }));
}

/** Where the profile passes half-way from one colour to the other near column `at`, in columns (outer-edge origin). */
function crossing(linear: ArrayLike<number>, at: number, a: readonly number[], b: readonly number[]): number {
  const axis = [0, 1, 2].map((c) => b[c] - a[c]);
  const size = axis.reduce((s, v) => s + v * v, 0);
  if (size < 1e-12) return at;
  const share = (x: number): number =>
    [0, 1, 2].reduce((s, c) => s + (linear[3 * x + c] - a[c]) * axis[c], 0) / size;
  for (let d = 0; d <= 3; d++) {
    for (const x of d === 0 ? [at] : [at - d, at + d]) {
      const p = share(x - 1);
      const q = share(x);
      if (p <= 0.5 && q > 0.5) return x - 0.5 + (0.5 - p) / (q - p);
    }
  }
  return at;
}
