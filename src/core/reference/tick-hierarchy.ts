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
  /** BIC lead over the best reading in the other unit; the larger the surer. */
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

/**
 * Reads the unit from tick lengths: every known hierarchy at every phase is fitted as class means, and the
 * Bayesian information criterion chooses (Schwarz 1978, doi 10.1214/aos/1176344136). A hierarchy counts only
 * if its classes grow: for inches quarter, eighth and sixteenth must differ, or a plain two-length
 * alternation would pass for one. Null when no hierarchy explains half of the variance.
 */
export function readHierarchy(
  ticks: readonly { readonly k: number; readonly lengthPx: number }[],
  only: 'auto' | 'mm' | 'inch' = 'auto',
): TickHierarchy | null {
  const n = ticks.length;
  if (n < 12) return null;
  const lengths = winsorised(ticks.map((t) => t.lengthPx));
  const mean = lengths.reduce((s, v) => s + v, 0) / n;
  const total = lengths.reduce((s, v) => s + (v - mean) ** 2, 0);
  const span = ticks[n - 1].k - ticks[0].k;
  let best: (TickHierarchy & { bic: number }) | null = null;
  let otherUnit = Infinity;
  for (const scale of SCALES) {
    if (only !== 'auto' && scale.unit !== only) continue;
    if (span < 1.2 * scale.period) continue;
    for (let phase = 0; phase < scale.period; phase++) {
      const fit = classFit(ticks, lengths, (k) => scale.rank(mod(k - phase, scale.period)));
      if (fit === null || !growing(fit.means, fit.counts, mean, scale.unit)) continue;
      const explained = 1 - fit.rss / Math.max(1e-9, total);
      const bic = n * Math.log(fit.rss / n + 1e-3) + (fit.means.length + 1) * Math.log(n);
      if (best === null || bic < best.bic) {
        if (best !== null && best.unit !== scale.unit) otherUnit = Math.min(otherUnit, best.bic);
        const { unit, pitchMm, period, rank } = scale;
        best = {
          unit,
          pitchMm,
          period,
          phase,
          rankOf: (k) => rank(mod(k - phase, period)),
          explained,
          lead: 0,
          bic,
        };
      } else if (scale.unit !== best.unit) otherUnit = Math.min(otherUnit, bic);
    }
  }
  if (best === null || best.explained < 0.5) return null;
  const { bic, ...found } = best;
  return { ...found, lead: Math.min(1e6, otherUnit - bic) };
}

const mod = (k: number, m: number): number => ((k % m) + m) % m;

/** A numeral that runs into a tick must not weigh: the top and bottom 2 % are pulled in. */
function winsorised(values: readonly number[]): number[] {
  const sorted = [...values].sort((a, b) => a - b);
  const low = sorted[Math.floor(0.02 * (sorted.length - 1))];
  const high = sorted[Math.ceil(0.98 * (sorted.length - 1))];
  return values.map((v) => Math.min(high, Math.max(low, v)));
}

function classFit(
  ticks: readonly { readonly k: number }[],
  lengths: readonly number[],
  rankOf: (k: number) => number,
): { rss: number; means: number[]; counts: number[] } | null {
  const sums: number[] = [];
  const counts: number[] = [];
  const ranks = ticks.map((t) => rankOf(t.k));
  ranks.forEach((r, i) => {
    sums[r] = (sums[r] ?? 0) + lengths[i];
    counts[r] = (counts[r] ?? 0) + 1;
  });
  for (let r = 0; r < sums.length; r++) if (!counts[r]) return null;
  const means = sums.map((s, r) => s / counts[r]);
  let rss = 0;
  ranks.forEach((r, i) => {
    rss += (lengths[i] - means[r]) ** 2;
  });
  return { rss, means, counts };
}

function growing(
  means: readonly number[],
  counts: readonly number[],
  mean: number,
  unit: 'mm' | 'inch',
): boolean {
  const step = 0.06 * mean;
  // The rarest class may be longest by nothing (some rules draw half and whole alike), never shorter.
  for (let r = 1; r < means.length; r++) {
    const slack = counts[r] <= 2 ? 3 * step : step;
    if (means[r] < means[r - 1] - slack) return false;
  }
  if (unit === 'mm') return means[means.length - 1] > means[0] + 2 * step;
  return means[1] > means[0] + step && means[2] > means[1] + step;
}
