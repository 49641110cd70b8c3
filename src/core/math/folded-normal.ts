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
 * likely: what two uneven edges miss each other by. Bisection to sd / 1e5.
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
    while (high - low > 1e-5 * sd + 1e-9) {
      const middle = (low + high) / 2;
      if (below(middle) < q) low = middle;
      else high = middle;
    }
    return (low + high) / 2;
  });
}
