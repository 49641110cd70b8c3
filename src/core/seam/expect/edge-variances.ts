import { wrap } from '../../model/cloth-pattern.js';

/** Rounds enough to settle any list of bands to a tenth of a per cent. */
const SETTLING_ROUNDS = 200;

/**
 * Variance of the lower edge of each band such that widths, each the difference of two independent edges,
 * vary by `sdMm`. Where no such edges exist (one uneven band between steady ones) the nearest, by the
 * multiplicative least-squares rule of Lee and Seung 1999, doi 10.1038/44565, which keeps them positive.
 */
export function edgeVariances(sdMm: readonly number[]): number[] {
  const n = sdMm.length;
  const wanted = sdMm.map((sd) => sd * sd);
  let edges = wanted.map((v, k) => (v + wanted[wrap(k - 1, n)]) / 4);
  for (let round = 0; round < SETTLING_ROUNDS; round++) {
    const widths = edges.map((v, k) => v + edges[(k + 1) % n]);
    edges = edges.map((v, k) => {
      const before = wrap(k - 1, n);
      const model = widths[k] + widths[before];
      return model > 0 ? (v * (wanted[k] + wanted[before])) / model : 0;
    });
  }
  return edges;
}
