/**
 * Probability that Fisher's F with d1 and d2 degrees of freedom exceeds `f`: the regularised incomplete beta function
 * I_x(d2/2, d1/2) at x = d2 / (d2 + d1 f) (Abramowitz and Stegun 26.6.2), by its continued fraction (26.5.8).
 */
export function fTailProbability(f: number, d1: number, d2: number): number {
  if (!(f > 0)) return 1;
  if (!Number.isFinite(f)) return 0;
  return incompleteBeta(d2 / (d2 + d1 * f), d2 / 2, d1 / 2);
}

function incompleteBeta(x: number, a: number, b: number): number {
  if (x <= 0) return 0;
  if (x >= 1) return 1;
  // The fraction converges fast on one side of the mean only; the other side by symmetry.
  if (x > (a + 1) / (a + b + 2)) return 1 - incompleteBeta(1 - x, b, a);
  const front =
    Math.exp(logGamma(a + b) - logGamma(a) - logGamma(b) + a * Math.log(x) + b * Math.log(1 - x)) / a;
  const tiny = 1e-300;
  let c = 1;
  let d = 1 - ((a + b) * x) / (a + 1);
  d = 1 / (Math.abs(d) < tiny ? tiny : d);
  let h = d;
  for (let m = 1; m < 400; m++) {
    const even = (m * (b - m) * x) / ((a + 2 * m - 1) * (a + 2 * m));
    d = 1 / nonZero(1 + even * d, tiny);
    c = nonZero(1 + even / c, tiny);
    h *= d * c;
    const odd = (-(a + m) * (a + b + m) * x) / ((a + 2 * m) * (a + 2 * m + 1));
    d = 1 / nonZero(1 + odd * d, tiny);
    c = nonZero(1 + odd / c, tiny);
    const change = d * c;
    h *= change;
    if (Math.abs(change - 1) < 1e-14) break;
  }
  return front * h;
}

const nonZero = (v: number, tiny: number): number => (Math.abs(v) < tiny ? tiny : v);

/** Lanczos approximation, g = 7, relative error below 1e-14 for positive arguments. */
export function logGamma(x: number): number {
  if (x < 0.5) return Math.log(Math.PI / Math.sin(Math.PI * x)) - logGamma(1 - x);
  const series = [
    676.5203681218851, -1259.1392167224028, 771.32342877765313, -176.61502916214059, 12.507343278686905,
    -0.13857109526572012, 9.9843695780195716e-6, 1.5056327351493116e-7,
  ];
  const z = x - 1;
  let sum = 0.99999999999980993;
  series.forEach((g, i) => {
    sum += g / (z + i + 1);
  });
  const t = z + 7.5;
  return 0.5 * Math.log(2 * Math.PI) + (z + 0.5) * Math.log(t) - t + Math.log(sum);
}
