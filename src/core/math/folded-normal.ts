/**
 * Distribution function of the normal distribution. Absolute error under 1.5e-7: Abramowitz and Stegun,
 * Handbook of Mathematical Functions (1964), 7.1.26.
 */
export function normalCdf(z: number): number {
  const x = Math.abs(z) / Math.SQRT2;
  const t = 1 / (1 + 0.3275911 * x);
  const poly =
    t * (0.254829592 + t * (-0.284496736 + t * (1.421413741 + t * (-1.453152027 + t * 1.061405429))));
  const tail = (poly * Math.exp(-x * x)) / 2;
  return z < 0 ? tail : 1 - tail;
}

/** One normal distribution of a mixture. sd > 0; weight >= 0. */
export interface NormalPart {
  readonly centre: number;
  readonly sd: number;
  readonly weight: number;
}

/**
 * Quantiles (each q in 0..1) of |X| where X is drawn from a mixture of normal distributions: what two uneven edges miss each
 * other by when their unevenness is itself known only so well. To a hundred-thousandth of the widest spread, by the Illinois
 * form of regula falsi (Dowell and Jarratt 1971, doi 10.1007/BF01934364).
 */
export function foldedQuantiles(parts: readonly NormalPart[], qs: readonly number[]): number[] {
  let furthest = 0;
  let sd = 0;
  let whole = 0;
  for (const part of parts) {
    furthest = Math.max(furthest, Math.abs(part.centre));
    sd = Math.max(sd, part.sd);
    whole += part.weight;
  }
  const below = (x: number): number => {
    let sum = 0;
    for (const { centre, sd, weight } of parts) {
      const up = normalCdf((x - centre) / sd);
      sum += weight * (up - (centre === 0 ? 1 - up : normalCdf((-x - centre) / sd)));
    }
    return sum / whole;
  };
  return qs.map((q) => {
    let low = 0;
    let high = furthest + 6 * sd;
    let atLow = -q;
    let atHigh = 1 - q;
    let moved: 'low' | 'high' | null = null;
    let x = high;
    for (let before = low; Math.abs(x - before) > 1e-5 * sd + 1e-9; ) {
      before = x;
      x = atHigh === atLow ? (low + high) / 2 : (low * atHigh - high * atLow) / (atHigh - atLow);
      const here = below(x) - q;
      if (here === 0) break;
      // An end that stays a second time counts half: else the chord would hang on it.
      if (here < 0) {
        low = x;
        atLow = here;
        if (moved === 'low') atHigh /= 2;
        moved = 'low';
      } else {
        high = x;
        atHigh = here;
        if (moved === 'high') atLow /= 2;
        moved = 'high';
      }
    }
    return x;
  });
}

/** The value that a normal distribution (mean 0, sd 1) stays below with probability q, 0 < q < 1. To 1e-6, by halving. */
export function normalQuantile(q: number): number {
  let low = -8;
  let high = 8;
  while (high - low > 1e-7) {
    const middle = (low + high) / 2;
    if (normalCdf(middle) < q) low = middle;
    else high = middle;
  }
  return (low + high) / 2;
}
