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
  /** Lead of the score (natural log) over the best reading in the other unit; the larger the surer. */
  readonly lead: number;
}

interface Scale {
  readonly unit: 'mm' | 'inch';
  readonly pitchMm: number;
  readonly period: number;
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

const SCALES: readonly Scale[] = [
  { unit: 'mm', pitchMm: 1, period: 10, rank: metricRank(10) },
  { unit: 'mm', pitchMm: 0.5, period: 20, rank: halfMmRank },
  { unit: 'inch', pitchMm: INCH_MM / 8, period: 8, rank: binaryRank(8) },
  { unit: 'inch', pitchMm: INCH_MM / 16, period: 16, rank: binaryRank(16) },
  { unit: 'inch', pitchMm: INCH_MM / 32, period: 32, rank: binaryRank(32) },
];

/** The shortest marks of a rule are made to be seen: 2.6 mm long, give or take two fifths (the rules looked at: 1.9 to 3.6). */
const FINEST_MM = 2.6;
const FINEST_LOG_SD = 0.4;

/**
 * Reads the unit from tick lengths: every known hierarchy is fitted at every phase as a length and a scatter for each rank, and
 * the Bayesian information criterion chooses (Schwarz 1978, doi 10.1214/aos/1176344136), with one thing known
 * beforehand: how long the shortest marks of a rule are. Without it a scale of half the pitch and twice the period fits
 * nearly as well, its two longest ranks being alike. A hierarchy counts only if its ranks grow: for inches and half
 * millimetres three lengths must differ, or a plain alternation of two would pass for one.
 *
 * @param pitchPx From one tick to the next, px; NaN when lengths are not in the same unit.
 * @param gridTicks Ticks from one line of the rule's printed grid to the next, where it has one: the grid is drawn at the longest
 * ticks, which then run on as far as the grid does and tell nothing by their length.
 * @returns Null when no hierarchy explains 0.7 of the variance.
 */
export function readHierarchy(
  ticks: readonly { readonly k: number; readonly lengthPx: number }[],
  only: 'auto' | 'mm' | 'inch' = 'auto',
  pitchPx = Number.NaN,
  gridTicks: number | null = null,
): TickHierarchy | null {
  const n = ticks.length;
  if (n < 12) return null;
  const usual = median(ticks.map((t) => t.lengthPx));
  // No scale's longest mark is six times its usual one: what goes on is a grid line or a numeral.
  const lengths = Float64Array.from(ticks, (t) => Math.min(t.lengthPx, 6 * usual));
  const ranks = new Uint8Array(n);
  const span = ticks[n - 1].k - ticks[0].k;
  let best: (TickHierarchy & { score: number }) | null = null;
  const bestOf = { mm: -Infinity, inch: -Infinity };
  for (const scale of SCALES) {
    if (only !== 'auto' && scale.unit !== only) continue;
    if (span < 1.6 * scale.period || (gridTicks !== null && scale.period !== gridTicks)) continue;
    const rankAt = Uint8Array.from({ length: scale.period }, (_, k) => scale.rank(k));
    const count = 1 + Math.max(...rankAt);
    for (let phase = 0; phase < scale.period; phase++) {
      for (let i = 0; i < n; i++) ranks[i] = rankAt[mod(ticks[i].k - phase, scale.period)];
      const classes = classesOf(lengths, ranks, count);
      if (classes === null || !growing(classes.medians, usual, scale.unit)) continue;
      const fit = classFit(lengths, ranks, classes);
      // Printed ticks of one rank are alike; a weave's threads or a text's strokes are not.
      // The longest may run into numerals or a grid and differ; three in four may not.
      if (fit.relativeMiss > 0.25 || fit.finestScatter > 0.3) continue;
      const finestMm = Number.isNaN(pitchPx) ? FINEST_MM : (classes.medians[0] / pitchPx) * scale.pitchMm;
      const expected = -0.5 * (Math.log(finestMm / FINEST_MM) / FINEST_LOG_SD) ** 2;
      const score = fit.logLikelihood - count * Math.log(n) + expected;
      bestOf[scale.unit] = Math.max(bestOf[scale.unit], score);
      if (best !== null && score <= best.score) continue;
      const { unit, pitchMm, period, rank } = scale;
      const rankOf = (k: number): number => rank(mod(k - phase, period));
      const explained = 1 - fit.rss / Math.max(1e-9, fit.total);
      best = { unit, pitchMm, period, phase, rankOf, explained, lead: 0, score };
    }
  }
  // Where a grid says the period, the lengths need only agree with it.
  if (best === null || best.explained < (gridTicks === null ? 0.7 : 0.5)) return null;
  const { score, ...found } = best;
  const other = bestOf[found.unit === 'mm' ? 'inch' : 'mm'];
  return { ...found, lead: Math.min(1e6, score - other) };
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

interface ClassFit {
  readonly rss: number;
  readonly total: number;
  /** Of the lengths, each rank with its own length and scatter. */
  readonly logLikelihood: number;
  readonly relativeMiss: number;
  readonly finestScatter: number;
}

/**
 * The sums of squares about the class medians and about the common mean, both without the twentieth of the ticks
 * that fits worst: numerals run into ticks, and wear shortens some. `relativeMiss`: upper quartile of how far lengths are from
 * their class's, relative to it. `finestScatter`: of the shortest class, relative to its
 * length; noise between true ticks makes a class of its own, but an uneven one.
 */
function classFit(lengths: Float64Array, ranks: Uint8Array, { sorted, medians }: Classes): ClassFit {
  const n = lengths.length;
  const misses = new Float64Array(n);
  for (let i = 0; i < n; i++) misses[i] = Math.abs(lengths[i] - medians[ranks[i]]);
  const most = quantile(misses, 0.95);
  let kept = 0;
  let mean = 0;
  for (let i = 0; i < n; i++) {
    if (misses[i] > most) continue;
    kept++;
    mean += lengths[i];
  }
  mean /= kept;
  let rss = 0;
  let total = 0;
  for (let i = 0; i < n; i++) {
    if (misses[i] > most) continue;
    rss += misses[i] ** 2;
    total += (lengths[i] - mean) ** 2;
  }
  // Tick ends are found to whole px: no rank is surer than a quarter of a square px. One stray in eight is left out.
  let logLikelihood = 0;
  for (let r = 0; r < sorted.length; r++) {
    const squares = sorted[r].map((v) => (v - medians[r]) ** 2).sort();
    const used = squares.length - Math.floor(squares.length / 8);
    let sum = 0;
    for (let i = 0; i < used; i++) sum += squares[i];
    logLikelihood -= 0.5 * squares.length * Math.log(sum / Math.max(1, used - 1) + 0.25);
  }
  for (let i = 0; i < n; i++) misses[i] /= Math.max(1, medians[ranks[i]]);
  return {
    rss,
    total,
    logLikelihood,
    relativeMiss: quantile(misses, 0.75),
    finestScatter: robustSd(sorted[0]) / Math.max(1, medians[0]),
  };
}

/**
 * Do the ranks' lengths grow as a printed scale's do? Each rank must be clearly longer than the one below, or a scale of half
 * the pitch or twice the period would always fit as well, its extra rank being no longer than the last. Metric rules may
 * draw the 5 mm mark like a millimetre or like a centimetre.
 */
function growing(medians: readonly number[], usual: number, unit: 'mm' | 'inch'): boolean {
  const longer = (r: number, than: number): boolean =>
    medians[r] - medians[than] > Math.max(0.1 * usual, 0.8);
  const notShorter = (r: number): boolean => medians[r] > medians[r - 1] - 0.06 * usual;
  const top = medians.length - 1;
  if (unit === 'inch') return medians.every((_, r) => r === 0 || longer(r, r - 1));
  const metric = top === 2 ? 0 : 1;
  const halves = metric === 0 || longer(1, 0);
  return halves && notShorter(metric + 1) && notShorter(metric + 2) && longer(top, metric);
}
