import { median, quantile, robustSd } from '../math/robust.js';

/** What the lengths of consecutive ticks say about the unit. */
export interface TickHierarchy {
  readonly unit: 'mm' | 'inch';
  /** mm from one tick to the next. */
  readonly pitchMm: number;
  /** k - phase is a multiple of the period at the longest ticks. */
  readonly phase: number;
  /** Ticks from one longest tick to the next. */
  readonly period: number;
  /** Rank of tick k: 0 for the finest. */
  readonly rankOf: (k: number) => number;
  /** Share of the lengths' variance that the hierarchy explains, 0..1. */
  readonly explained: number;
  /** Lead of the score (natural log) over the best other reading; the larger the surer. */
  readonly lead: number;
}

export interface Scale {
  readonly unit: 'mm' | 'inch';
  readonly pitchMm: number;
  readonly period: number;
  readonly ranks: 'metric' | 'binary';
  readonly rank: (k: number) => number;
}

const INCH_MM = 25.4; // exact, NBS Circular 572 addendum (1959)

const metricRank = (perCm: number) => (k: number) => (k % perCm === 0 ? 2 : k % (perCm / 2) === 0 ? 1 : 0);
const halfMmRank = (k: number) => (k % 20 === 0 ? 3 : k % 10 === 0 ? 2 : k % 2 === 0 ? 1 : 0);
const binaryRank = (period: number) => (k: number) => {
  let rank = 0;
  for (let step = 2; step <= period && k % step === 0; step *= 2) rank++;
  return rank;
};

const MILLIMETRES: Scale = { unit: 'mm', pitchMm: 1, period: 10, ranks: 'metric', rank: metricRank(10) };
const TENTHS: Scale = { ...MILLIMETRES, unit: 'inch', pitchMm: INCH_MM / 10 };

/** Tenths of an inch have the ranks of millimetres, which stand here for both. */
export const SCALES: readonly Scale[] = [
  MILLIMETRES,
  { unit: 'mm', pitchMm: 0.5, period: 20, ranks: 'metric', rank: halfMmRank },
  { unit: 'inch', pitchMm: INCH_MM / 8, period: 8, ranks: 'binary', rank: binaryRank(8) },
  { unit: 'inch', pitchMm: INCH_MM / 16, period: 16, ranks: 'binary', rank: binaryRank(16) },
  { unit: 'inch', pitchMm: INCH_MM / 32, period: 32, ranks: 'binary', rank: binaryRank(32) },
];

/** From one mark to the next on the scales that are known, mm. */
export const PITCHES_MM: readonly number[] = [...SCALES, TENTHS].map(({ pitchMm }) => pitchMm);

/** Ranks that no ruler has. Where one of them fits nearly as well as the best ruler, the lengths are chance or another pattern's. */
export const DECOYS: readonly { readonly period: number; readonly rank: (k: number) => number }[] = [
  { period: 2, rank: binaryRank(2) },
  { period: 4, rank: binaryRank(4) },
  ...[3, 6, 7, 9, 11, 12, 13, 14, 15].map((period) => ({
    period,
    rank: (k: number): number => (k % period === 0 ? 2 : k % period === period >> 1 ? 1 : 0),
  })),
];

/**
 * What tells tenths of an inch from millimetres: the length of the shortest marks, in spacings. Shorter than the first they are
 * tenths, longer than the second millimetres; between them there is no telling, unless a person names the unit.
 */
const TENTHS_BELOW = 1.15;
const MILLIMETRES_ABOVE = 1.4;
/** By tips alone the feet are unmeasured only roughly. */
const MILLIMETRES_ABOVE_BY_TIPS = 1.9;

export function millimetresOrTenths(
  finest: number,
  only: 'auto' | 'mm' | 'inch',
  ends: 'both' | 'tips',
): Scale | null {
  const millimetres = ends === 'both' ? MILLIMETRES_ABOVE : MILLIMETRES_ABOVE_BY_TIPS;
  if (only !== 'inch' && finest > (only === 'mm' ? 0.9 : millimetres)) return MILLIMETRES;
  const tenths = only === 'inch' ? MILLIMETRES_ABOVE : TENTHS_BELOW;
  return only !== 'mm' && ends === 'both' && finest < tenths ? TENTHS : null;
}

/** The shortest marks of a rule are made to be seen: 2.6 mm long, give or take two fifths (the rules looked at: 1.9 to 3.6). */
const FINEST_MM = 2.6;
const FINEST_LOG_SD = 0.4;
/** No rule's are shorter or longer than this. */
export const FINEST_RANGE_MM = [1.2, 7] as const;
/** Where they are seen sharply, not longer than this: half as long again as any looked at. Blur adds some px to both their ends. */
const LONGEST_FINEST_MM = 5;
const ENDS_BLUR_PX = 5;

/** What is known beside the lengths. */
export interface HierarchyContext {
  /** The unit a person named. */
  readonly only?: 'auto' | 'mm' | 'inch';
  /** From one tick to the next, px; NaN when lengths are not in the same unit. */
  readonly pitchPx?: number;
  /**
   * Ticks from one line of the rule's printed grid to the next, where it has one: the grid is drawn at the longest ticks, which
   * then run on as far as the grid does and tell nothing by their length.
   */
  readonly gridTicks?: number | null;
  /** Whether lengths are from foot to tip, or only tips are known and feet supposed to be level. */
  readonly ends?: 'both' | 'tips';
}

/**
 * Reads the unit from tick lengths: every unmeasured hierarchy is fitted at every phase as a length and a scatter for each rank, and
 * the Bayesian information criterion chooses (Schwarz 1978, doi 10.1214/aos/1176344136), with one thing unmeasured
 * beforehand: how long the shortest marks of a rule are. Without it a scale of half the pitch and twice the period fits
 * nearly as well, its two longest ranks being alike. A hierarchy counts only if its ranks grow: for inches and half
 * millimetres three lengths must differ, or a plain alternation of two would pass for one.
 *
 * @returns Null when no hierarchy explains 0.7 of the variance, or the marks are too short or long for the scale that does.
 */
export function readHierarchy(
  ticks: readonly { readonly k: number; readonly lengthPx: number }[],
  { only = 'auto', pitchPx = Number.NaN, gridTicks = null, ends = 'both' }: HierarchyContext = {},
): TickHierarchy | null {
  const n = ticks.length;
  if (n < 12) return null;
  const usual = median(ticks.map((t) => t.lengthPx));
  // No scale's longest mark is six times its usual one: what goes on is a grid line or a numeral.
  const lengths = Float64Array.from(ticks, (t) => Math.min(t.lengthPx, 6 * usual));
  const ranks = new Uint8Array(n);
  const span = ticks[n - 1].k - ticks[0].k;
  /** The best score of each scale; that of the decoys under 0. */
  const scores = new Map<number, number>();
  const note = (period: number, score: number): void => {
    scores.set(period, Math.max(score, scores.get(period) ?? -Infinity));
  };
  const ranksFor = (period: number, rank: (k: number) => number, phase: number): number => {
    let highest = 0;
    for (let i = 0; i < n; i++) {
      ranks[i] = rank(mod(ticks[i].k - phase, period));
      if (ranks[i] > highest) highest = ranks[i];
    }
    return highest + 1;
  };
  const readAs = (scale: Scale, phase: number, longest: 'all' | 'unworn'): Reading | null => {
    const { pitchMm, period } = scale;
    const count = ranksFor(period, scale.rank, phase);
    const all = classesOf(lengths, ranks, count);
    const classes = longest === 'all' || all === null ? all : withUnwornTop(all);
    if (classes === null || !growing(classes.medians, usual, scale.ranks)) return null;
    if (scale.ranks === 'binary' && longestAreMixed(classes)) return null;
    const finest = classes.medians[0] / pitchPx;
    const finestMm = finest * (period === 10 && finest < TENTHS_BELOW ? TENTHS.pitchMm : pitchMm);
    const fit = classFit(lengths, ranks, classes);
    // Printed ticks of one rank are alike; a weave's threads or a text's strokes are not.
    // The longest may run into numerals or a grid and differ; three in four may not.
    if (fit.relativeMiss > 0.25 || fit.finestScatter > 0.3) return null;
    const unlikely = Number.isNaN(finest) ? 0 : Math.log(finestMm / FINEST_MM) / FINEST_LOG_SD;
    const score = fit.score - 0.5 * unlikely ** 2;
    note(period, score);
    return { score, scale, phase, finest, explained: 1 - fit.rss / Math.max(1e-9, fit.total) };
  };
  const isAsked = ({ unit, period }: Scale): boolean =>
    (only === 'auto' || unit === only || period === 10) &&
    span >= 1.6 * period &&
    (gridTicks === null || period === gridTicks);
  const phases = (scale: Scale): number[] => Array.from({ length: scale.period }, (_, phase) => phase);
  let best = surest(
    SCALES.filter(isAsked).flatMap((scale) => phases(scale).map((phase) => readAs(scale, phase, 'all'))),
  );
  if (best !== null && best.scale.ranks === 'binary' && isTooLong(best, pitchPx)) {
    // No rule's shortest marks are so long: they are of half the spacing, and most of the longest marks worn.
    const { phase, scale } = best;
    const finer = SCALES.find(({ ranks, period }) => ranks === 'binary' && period === 2 * scale.period);
    if (finer === undefined || !isAsked(finer)) return null;
    scores.delete(scale.period);
    best = surest([phase, phase + scale.period].map((either) => readAs(finer, either, 'unworn')));
  }
  // Where a grid says the period, the lengths need only agree with it.
  if (best === null || best.explained < (gridTicks === null ? 0.7 : 0.5)) return null;
  const { score, phase, finest, explained } = best;
  const unmeasured = Number.isNaN(finest);
  const scale =
    best.scale.period === 10 ? millimetresOrTenths(unmeasured ? FINEST_MM : finest, only, ends) : best.scale;
  if (scale === null) return null;
  const { unit, pitchMm, period, rank } = scale;
  const finestMm = unmeasured ? FINEST_MM : finest * pitchMm;
  if (finestMm < FINEST_RANGE_MM[0] || isTooLong({ scale, finest }, pitchPx)) return null;
  if (gridTicks === null) {
    for (const decoy of DECOYS) {
      for (let shift = 0; shift < decoy.period; shift++) {
        const classes = classesOf(lengths, ranks, ranksFor(decoy.period, decoy.rank, shift));
        if (classes !== null) note(0, classFit(lengths, ranks, classes, 'all as long').score);
      }
    }
  }
  let other = -Infinity;
  for (const [theirPeriod, theirs] of scores) if (theirPeriod !== period) other = Math.max(other, theirs);
  return {
    unit,
    pitchMm,
    period,
    phase,
    rankOf: (k) => rank(mod(k - phase, period)),
    explained,
    lead: Math.min(1e6, score - other),
  };
}

interface Reading {
  readonly score: number;
  readonly scale: Scale;
  readonly phase: number;
  /** Length of its shortest marks, spacings; NaN where it is not measured. */
  readonly finest: number;
  readonly explained: number;
}

const surest = (readings: readonly (Reading | null)[]): Reading | null =>
  readings.reduce(
    (best, one) => (one !== null && (best === null || one.score > best.score) ? one : best),
    null,
  );

/** Whether the shortest marks would be longer than any rule's. */
function isTooLong(
  { scale: { pitchMm }, finest }: Pick<Reading, 'scale' | 'finest'>,
  pitchPx: number,
): boolean {
  if (Number.isNaN(finest)) return false;
  const finestMm = finest * pitchMm;
  return finestMm > FINEST_RANGE_MM[1] || finestMm - (ENDS_BLUR_PX / pitchPx) * pitchMm > LONGEST_FINEST_MM;
}

const mod = (k: number, m: number): number => ((k % m) + m) % m;

interface Classes {
  /** The lengths of each rank, ascending. */
  readonly sorted: readonly Float64Array[];
  readonly medians: readonly number[];
}

/** Null when a rank has fewer than two ticks. */
function classesOf(lengths: Float64Array, ranks: Uint8Array, count: number): Classes | null {
  const sizes = new Int32Array(count);
  for (let i = 0; i < ranks.length; i++) sizes[ranks[i]]++;
  for (let r = 0; r < count; r++) if (sizes[r] < 2) return null;
  const sorted: Float64Array[] = [];
  const medians: number[] = [];
  for (let r = 0; r < count; r++) {
    const own = new Float64Array(sizes[r]);
    let n = 0;
    for (let i = 0; i < ranks.length; i++) if (ranks[i] === r) own[n++] = lengths[i];
    own.sort();
    sorted.push(own);
    medians.push((own[(n - 1) >> 1] + own[n >> 1]) / 2);
  }
  return { sorted, medians };
}

/** So many of the longest marks, and this part of them, must be unworn, alike to some px. */
const FEWEST_UNWORN = 3;
const LEAST_UNWORN = 0.3;
const UNWORN_SD_PX = 3;

/**
 * The ranks with the longest one's length from those of its marks that are clearly longer than the next rank's: wear has shortened the others.
 * Null where they are too few or unlike, or any mark of the next rank is as long: these may be numerals that touch marks.
 */
function withUnwornTop({ sorted, medians }: Classes): Classes | null {
  const top = medians.length - 1;
  const next = medians[top - 1];
  const longer = sorted[top].filter((length) => length > 1.1 * next);
  if (longer.length < Math.max(FEWEST_UNWORN, LEAST_UNWORN * sorted[top].length)) return null;
  const own = median(longer);
  if (robustSd(longer) > UNWORN_SD_PX || sorted[top - 1].some((length) => length > (own + next) / 2))
    return null;
  return { sorted, medians: [...medians.slice(0, top), own] };
}

/** More of a rank than this are as long as the next one's by chance alone. */
const MIXED = 0.15;

/**
 * Where numerals touch some of the longest marks, these fall in two lengths, and half the pitch with twice the period fits better if by chance
 * more of the long ones are at every other. Then the two ranks have marks of one another's length; of a rule's true ranks only worn
 * ones do, or only those that run into something.
 */
function longestAreMixed({ sorted, medians }: Classes): boolean {
  const top = medians.length - 1;
  const half = (medians[top] - medians[top - 1]) / 2;
  const alike = (lengths: Float64Array, median: number): number =>
    lengths.filter((length) => Math.abs(length - median) < half).length / lengths.length;
  return alike(sorted[top], medians[top - 1]) > MIXED && alike(sorted[top - 1], medians[top]) > MIXED;
}

interface ClassFit {
  readonly rss: number;
  readonly total: number;
  /** Log likelihood of the lengths less the cost of the ranks' own lengths. */
  readonly score: number;
  readonly relativeMiss: number;
  readonly finestScatter: number;
}

/** 1 / (the normal distribution's third quartile). */
const SD_PER_MEDIAN_MISS = 1.4826;
/** Scatter of a rank that is one, as a part of what it is longer than the next. */
const CLEAR_RANK = 0.25;
const ROOT_2PI = Math.sqrt(2 * Math.PI);
/** Tick ends are found to whole px. */
const LEAST_SD_PX = 0.6;
/** Numerals run into ticks, wear and glare shorten some: so many are anything up to the longest. */
const STRAYS = 0.1;

/**
 * How well ranks explain the lengths. Each rank has its own length, all share one scatter, and a tenth of the ticks are strays, which
 * then cost every reading alike. `rss` and `total`: sums of squares about the ranks' medians and about the common mean,
 * both without the twentieth that fits worst and without what is longer than the longest rank. `relativeMiss`: upper quartile of how far lengths are from their rank's,
 * relative to it. `finestScatter`: of the shortest rank, relative to its length; noise between true ticks makes a rank of
 * its own, but an uneven one.
 */
function classFit(
  lengths: Float64Array,
  ranks: Uint8Array,
  { sorted, medians }: Classes,
  longMarks: 'may run on' | 'all as long' = 'may run on',
): ClassFit {
  const n = lengths.length;
  const top = medians.length - 1;
  const misses = new Float64Array(n);
  let longest = 1;
  for (let i = 0; i < n; i++) {
    misses[i] = Math.abs(lengths[i] - medians[ranks[i]]);
    if (lengths[i] > longest) longest = lengths[i];
  }
  const sd = Math.max(LEAST_SD_PX, SD_PER_MEDIAN_MISS * median(misses));
  const stray = STRAYS / longest;
  const runsOn = (i: number): boolean =>
    // The longest marks of a rule run on into a numeral or a grid more often than not; were those of a pattern that no rule has free to, a
    // rule whose inches do, each as far as its numeral lets it, would be that pattern.
    longMarks === 'may run on' && ranks[i] === top && lengths[i] > medians[top];
  const likelihoodWith = (topSd: number): number => {
    let sum = 0;
    for (let i = 0; i < n; i++) {
      const own = ranks[i] === top ? topSd : sd;
      const least = runsOn(i) ? 0.5 / longest : stray;
      sum += Math.log(least + ((1 - STRAYS) / (own * ROOT_2PI)) * Math.exp(-0.5 * (misses[i] / own) ** 2));
    }
    return sum;
  };
  // Where all others are alike to a px the longest, which end in numerals, may scatter more: as one rank still, clear of the next, or two of
  // a finer scale would pass for it.
  const ownSd = SD_PER_MEDIAN_MISS * median(misses.filter((_, i) => ranks[i] === top));
  const isOneRank = ownSd < CLEAR_RANK * (medians[top] - (medians[top - 1] ?? 0));
  const alike = likelihoodWith(sd);
  const ownScatter = ownSd > sd && isOneRank ? likelihoodWith(ownSd) - 0.5 * Math.log(n) : -Infinity;
  const logLikelihood = Math.max(alike, ownScatter);
  for (let i = 0; i < n; i++) if (runsOn(i)) misses[i] = 0;
  const most = misses.slice().sort()[Math.ceil(0.95 * n) - 1];
  let kept = 0;
  let sum = 0;
  for (let i = 0; i < n; i++) {
    if (misses[i] > most) continue;
    kept++;
    sum += Math.min(lengths[i], medians[top]);
  }
  let rss = 0;
  let total = 0;
  for (let i = 0; i < n; i++) {
    if (misses[i] <= most) {
      rss += misses[i] ** 2;
      total += (Math.min(lengths[i], medians[top]) - sum / kept) ** 2;
    }
    misses[i] /= Math.max(1, medians[ranks[i]]);
  }
  return {
    rss,
    total,
    score: logLikelihood - 0.5 * (medians.length + 1) * Math.log(n),
    relativeMiss: quantile(misses, 0.75),
    finestScatter: robustSd(sorted[0]) / Math.max(1, medians[0]),
  };
}

/**
 * Do the ranks' lengths grow as a printed scale's do? Each rank must be clearly longer than the one below, or a scale of half
 * the pitch or twice the period would always fit as well, its extra rank being no longer than the last but for a numeral. Metric rules may
 * draw the 5 mm mark like a millimetre or like a centimetre.
 */
export function growing(medians: readonly number[], usual: number, ranks: Scale['ranks']): boolean {
  const relative = ranks === 'binary' ? 0.1 : 0;
  const longer = (r: number, than: number): boolean =>
    medians[r] - medians[than] > Math.max(0.1 * usual, relative * medians[than], 0.8);
  const notShorter = (r: number): boolean => medians[r] > medians[r - 1] - 0.06 * usual;
  const top = medians.length - 1;
  if (ranks === 'binary') return medians.every((_, r) => r === 0 || longer(r, r - 1));
  const metric = top === 2 ? 0 : 1;
  const halves = metric === 0 || longer(1, 0);
  return halves && notShorter(metric + 1) && notShorter(metric + 2) && longer(top, metric);
}
