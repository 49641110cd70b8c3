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

/**
 * Quantiles (each q in 0..1) of |X| where X is normal with spread sd > 0 about one of `centres`, each equally
 * likely: what two uneven edges miss each other by. To sd / 1e5, by the Illinois form of regula falsi (Dowell and Jarratt 1971,
 * doi 10.1007/BF01934364).
 */
export function foldedQuantiles(centres: ArrayLike<number>, sd: number, qs: readonly number[]): number[] {
  let furthest = 0;
  for (let i = 0; i < centres.length; i++) furthest = Math.max(furthest, Math.abs(centres[i]));
  const below = (x: number): number => {
    let sum = 0;
    for (let i = 0; i < centres.length; i++) {
      sum += normalCdf((x - centres[i]) / sd) - normalCdf((-x - centres[i]) / sd);
    }
    return sum / centres.length;
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
