import { median, robustSd } from '../math/robust.js';
import {
  DECOYS,
  FINEST_RANGE_MM,
  growing,
  millimetresOrTenths,
  SCALES,
  type Scale,
} from './tick-hierarchy.js';

/** How dark marks are at each depth: entry (k - first) * depths + d, in levels of luma; depth d is d px beyond the first. */
export interface MarkDepths {
  readonly first: number;
  readonly count: number;
  readonly depths: number;
  readonly values: Float32Array;
}

export interface FaintHierarchy {
  readonly scale: Scale;
  readonly phase: number;
  /** Depths, px beyond the first, at which every mark is there: from (included) to. */
  readonly feet: readonly [number, number];
  /** Depth at which the marks of each rank end. */
  readonly ends: readonly number[];
  /** Log likelihood over that of no marks at all, and its lead over the best other scale or pattern. */
  readonly gain: number;
  readonly lead: number;
}

interface Pattern {
  readonly period: number;
  readonly rank: (k: number) => number;
}

interface PatternFit {
  readonly gain: number;
  readonly phase: number;
  readonly feet: readonly [number, number];
  readonly ends: readonly number[];
}

/**
 * The unit of marks too faint, fine or worn to be followed one by one. Marks of one rank are as long as one another, so that depth by
 * depth their mean over the whole ruler says whether that rank is still there: beyond the feet all are, then the longer ones
 * only, then the longest. For each scale and phase the likeliest depths at which ranks end are found by dynamic programming; the
 * scale whose likelihood leads those of other scales, and of patterns that no ruler has, is the ruler's.
 */
export function faintHierarchy(
  marks: MarkDepths,
  pitchPx: number,
  only: 'auto' | 'mm' | 'inch',
): FaintHierarchy | null {
  const noise = noiseOf(marks);
  if (noise === null) return null;
  const whole: (PatternFit & { scale: Scale })[] = [];
  for (const scale of SCALES) {
    if (marks.count < 1.6 * scale.period) continue;
    for (const fit of fits(marks, scale, noise)) {
      if (grows(scale, fit) && isWhole(marks, scale, fit, noise)) whole.push({ ...fit, scale });
    }
  }
  let best: (PatternFit & { scale: Scale }) | null = null;
  const others: { gain: number; scale: Scale | null }[] = [];
  for (const fit of whole) {
    const named = scaleOf(fit.scale, fit, pitchPx, only);
    if (named === null || whole.some((simpler) => saysAsMuch(simpler, fit, marks.count))) continue;
    others.push({ gain: fit.gain, scale: named });
    if (best === null || fit.gain > best.gain) best = { ...fit, scale: named };
  }
  if (best === null) return null;
  for (const decoy of DECOYS) {
    if (marks.count < 1.6 * decoy.period) continue;
    for (const fit of fits(marks, decoy, noise)) others.push({ gain: fit.gain, scale: null });
  }
  const { pitchMm } = best.scale;
  const rival = others.reduce((m, o) => (o.scale?.pitchMm === pitchMm ? m : Math.max(m, o.gain)), 0);
  return { ...best, lead: best.gain - rival };
}

/** A longest rank of its own adds to the likelihood by each px of its marks as the others do, or by this part of it at least. */
const OWN_RANK = 0.3;

/** Whether a scale of half the period, all of whose longest marks are alike, says as much: every other of them is no rank of its own then. */
function saysAsMuch(
  simpler: PatternFit & { readonly scale: Scale },
  fit: PatternFit & { readonly scale: Scale },
  count: number,
): boolean {
  const { period, ranks, rank } = simpler.scale;
  const isPart =
    ranks === 'binary' &&
    fit.scale.ranks === 'binary' &&
    2 * period === fit.scale.period &&
    (fit.phase - simpler.phase) % period === 0;
  if (!isPart) return false;
  let markPx = 0;
  for (let k = 0; k < count; k++) markPx += simpler.ends[rank(k % period)] - simpler.feet[0];
  const ownPx = (count / fit.scale.period) * (fit.ends[fit.ends.length - 1] - fit.ends[fit.ends.length - 2]);
  return fit.gain - simpler.gain < OWN_RANK * ownPx * (simpler.gain / markPx);
}

const grows = ({ ranks }: Scale, { feet, ends }: PatternFit): boolean =>
  growing(
    ends.map((end) => end - feet[0]),
    ends[0] - feet[0],
    ranks,
  );

/** The scale, where its marks have the lengths that a rule's have; of millimetres and tenths of an inch, the one they fit. */
function scaleOf(
  scale: Scale,
  { feet, ends }: PatternFit,
  pitchPx: number,
  only: 'auto' | 'mm' | 'inch',
): Scale | null {
  const finest = (ends[0] - feet[0]) / pitchPx;
  const named = scale.period === 10 ? millimetresOrTenths(finest, only, 'both') : scale;
  if (named === null || (only !== 'auto' && named.unit !== only)) return null;
  const finestMm = finest * named.pitchMm;
  return finestMm >= FINEST_RANGE_MM[0] && finestMm <= FINEST_RANGE_MM[1] ? named : null;
}

/** Marks of every place in the period are at least this dark at the feet, as a part of the usual: none is missing, none a weave's thread. */
const LEAST_DARK = 0.35;
/** Few or faint marks of one place may seem lighter by chance, by so many standard deviations; but not as light as this. */
const BY_CHANCE = 2;
const BARE = 0.1;
/** Of what differs from place to place in twice the period, from the feet to the longest marks' ends, so much at least is the ranks'. */
const EXPLAINED = 0.6;

/** Whether the marks are the scale's and no more: each of them is there, and those of one rank are alike. */
function isWhole(
  marks: MarkDepths,
  { period, rank }: Scale,
  { phase, feet, ends }: PatternFit,
  { variance, together }: Noise,
): boolean {
  const { first, count, depths, values } = marks;
  const top = Math.max(...ends);
  const places = 2 * period;
  const darkness = new Float64Array(places);
  const numbers = new Float64Array(places);
  const means = new Float64Array(places * (top - feet[0]));
  for (let n = 0; n < count; n++) {
    const place = (((first + n - phase) % places) + places) % places;
    numbers[place]++;
    for (let d = feet[0]; d < top; d++)
      means[place * (top - feet[0]) + d - feet[0]] += values[n * depths + d];
  }
  const byRank = new Map<number, Float64Array>();
  const ofRank = new Map<number, number>();
  const span = top - feet[0];
  for (let place = 0; place < places; place++) {
    if (numbers[place] === 0) return false;
    const own = rank(place % period);
    const rankMean = byRank.get(own) ?? new Float64Array(span);
    byRank.set(own, rankMean);
    ofRank.set(own, (ofRank.get(own) ?? 0) + 1);
    for (let d = 0; d < span; d++) {
      means[place * span + d] /= numbers[place];
      rankMean[d] += means[place * span + d];
      if (d < feet[1] - feet[0]) darkness[place] += means[place * span + d];
    }
  }
  const usual = median(darkness);
  let atFeet = 0;
  for (let d = feet[0]; d < feet[1]; d++) atFeet += variance[d] * together;
  const missing = (dark: number, place: number): boolean => {
    const chance = BY_CHANCE * Math.sqrt(atFeet / numbers[place]);
    return dark < Math.max(BARE * usual, LEAST_DARK * usual - chance);
  };
  if (usual <= 0 || darkness.some(missing)) return false;
  // About the common mean of each depth, and about the rank's own; less what noise alone puts there.
  let all = 0;
  let left = 0;
  let perPlace = 0;
  for (const n of numbers) perPlace += 1 / n / places;
  for (let d = 0; d < span; d++) {
    const chance = variance[feet[0] + d] * perPlace;
    all -= (places - 1) * chance;
    left -= (places - ofRank.size) * chance;
    let mean = 0;
    for (let place = 0; place < places; place++) mean += means[place * span + d] / places;
    for (let place = 0; place < places; place++) {
      const own = rank(place % period);
      const rankMean = (byRank.get(own) as Float64Array)[d] / (ofRank.get(own) as number);
      all += (means[place * span + d] - mean) ** 2;
      left += (means[place * span + d] - rankMean) ** 2;
    }
  }
  return left < (1 - EXPLAINED) * all;
}

interface Noise {
  /** Variance of one mark at each depth. */
  readonly variance: Float64Array;
  /** Depths that share what they show. */
  readonly together: number;
}

function noiseOf({ count, depths, values }: MarkDepths): Noise | null {
  if (count < 16 || depths < 8) return null;
  const variance = new Float64Array(depths);
  const column = new Float64Array(count);
  for (let d = 0; d < depths; d++) {
    for (let k = 0; k < count; k++) column[k] = values[k * depths + d];
    variance[d] = Math.max(0.2, robustSd(column)) ** 2;
  }
  let same = 0;
  let next = 0;
  for (let k = 0; k < count; k++) {
    let mean = 0;
    for (let d = 0; d < depths; d++) mean += values[k * depths + d] / depths;
    for (let d = 0; d + 1 < depths; d++) {
      const v = values[k * depths + d] - mean;
      same += v * v;
      next += v * (values[k * depths + d + 1] - mean);
    }
  }
  const rho = Math.max(0, Math.min(0.9, next / Math.max(1e-9, same)));
  return { variance, together: (1 + rho) / (1 - rho) };
}

/** The best fit of a pattern at each of its phases. */
function* fits(marks: MarkDepths, { period, rank }: Pattern, noise: Noise): Generator<PatternFit> {
  const { first, count, depths, values } = marks;
  const sums = new Float64Array(period * depths);
  const sizes = new Float64Array(period);
  for (let k = 0; k < count; k++) {
    const residue = (((first + k) % period) + period) % period;
    sizes[residue]++;
    for (let d = 0; d < depths; d++) sums[residue * depths + d] += values[k * depths + d];
  }
  const ranks = Array.from({ length: period }, (_, r) => rank(r));
  const top = Math.max(...ranks);
  for (let phase = 0; phase < period; phase++) {
    // Of each rank and all above it.
    const numbers = new Float64Array(top + 1);
    const totals = new Float64Array((top + 1) * depths);
    for (let residue = 0; residue < period; residue++) {
      const own = ranks[(((residue - phase) % period) + period) % period];
      for (let r = 0; r <= own; r++) {
        numbers[r] += sizes[residue];
        for (let d = 0; d < depths; d++) totals[r * depths + d] += sums[residue * depths + d];
      }
    }
    if (numbers[top] < 2) continue;
    const fit = likeliestEnds(numbers, totals, depths, noise);
    if (fit !== null) yield { ...fit, phase };
  }
}

/** From where to where marks of all ranks stand, and where each rank ends, by the greatest sum of what each depth gains by it. */
function likeliestEnds(
  numbers: Float64Array,
  totals: Float64Array,
  depths: number,
  { variance, together }: Noise,
): Omit<PatternFit, 'phase'> | null {
  const ranks = numbers.length;
  // States: 0 before the feet, 1 all ranks there, 2 all but the finest ..., ranks + 1 beyond the longest.
  const states = ranks + 2;
  const best = new Float64Array(states).fill(-Infinity);
  best[0] = 0;
  const came = new Uint8Array(depths * states);
  for (let d = 0; d < depths; d++) {
    for (let state = states - 1; state >= 0; state--) {
      let from = state;
      for (let s = 0; s < state; s++) if (best[s] > best[from]) from = s;
      const r = state - 1;
      let gain = 0;
      if (r >= 0 && r < ranks) {
        const total = totals[r * depths + d];
        gain = (Math.sign(total) * total ** 2) / (2 * numbers[r] * variance[d] * together);
      }
      came[d * states + state] = from;
      best[state] = best[from] + gain;
    }
  }
  let state = 0;
  for (let s = 1; s < states; s++) if (best[s] > best[state]) state = s;
  const gain = best[state];
  const at = new Uint8Array(depths);
  for (let d = depths - 1; d >= 0; d--) {
    at[d] = state;
    state = came[d * states + state];
  }
  const start = at.indexOf(1);
  if (start < 0) return null;
  const ends = Array.from({ length: ranks }, (_, r) => {
    let end = start;
    while (end < depths && at[end] <= r + 1) end++;
    return end;
  });
  return { gain, feet: [start, ends[0]], ends };
}
