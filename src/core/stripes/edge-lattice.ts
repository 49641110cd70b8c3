import type { BandPlace } from './stripe-reading.js';

/** Edges of a repeating cloth on their common ruler: edge (band b, repeat k) lies at offsets[b] + k * period. */
export interface EdgeLattice {
  readonly periodMm: number;
  /** Standard deviation of the period from the edges' scatter alone. */
  readonly periodSdMm: number;
  /** Place of the start of each band in repeat 0. */
  readonly offsetsMm: readonly number[];
  /** Scatter of single edges about the lattice, mm. */
  readonly scatterMm: number;
  /** Per edge: distance from its lattice place (NaN without a place or unseen). */
  readonly missesMm: Float64Array;
}

/**
 * Least squares for period and offsets on all edges with a place (band that begins there, repeat); edges far off are held down
 * (Huber weights). Null when no band's edge is seen in two repeats.
 */
export function fitLattice(
  placesMm: ArrayLike<number>,
  places: readonly (BandPlace | null)[],
  bands: number,
): EdgeLattice | null {
  const used = places.flatMap((p, e) =>
    p && !Number.isNaN(placesMm[e]) ? [{ e, ...p, u: placesMm[e] }] : [],
  );
  let weights = used.map(() => 1);
  let periodMm = Number.NaN;
  let leverage = 0;
  let offsetsMm: number[] = [];
  let scatterMm = 0;
  for (let round = 0; round < 8; round++) {
    const sums = Array.from({ length: bands }, () => ({ w: 0, k: 0, u: 0 }));
    used.forEach((p, i) => {
      const s = sums[p.band];
      s.w += weights[i];
      s.k += weights[i] * p.repeat;
      s.u += weights[i] * p.u;
    });
    let top = 0;
    leverage = 0;
    used.forEach((p, i) => {
      const s = sums[p.band];
      const dk = p.repeat - s.k / s.w;
      top += weights[i] * dk * (p.u - s.u / s.w);
      leverage += weights[i] * dk * dk;
    });
    if (leverage <= 1e-9) return null;
    periodMm = top / leverage;
    offsetsMm = sums.map((s) => (s.w > 0 ? s.u / s.w - (periodMm * s.k) / s.w : Number.NaN));
    const misses = used.map((p) => p.u - offsetsMm[p.band] - periodMm * p.repeat);
    let sum = 0;
    misses.forEach((m, i) => {
      sum += weights[i] * m * m;
    });
    const seenBands = sums.filter((s) => s.w > 0).length;
    const freedom = Math.max(1, used.length - seenBands - 1);
    scatterMm = Math.sqrt(sum / freedom);
    const limit = 2.5 * Math.max(1e-6, medianSize(misses) * 1.4826);
    weights = misses.map((m) => (Math.abs(m) <= limit ? 1 : limit / Math.abs(m)));
  }
  const missesMm = new Float64Array(places.length).fill(Number.NaN);
  for (const p of used) missesMm[p.e] = p.u - offsetsMm[p.band] - periodMm * p.repeat;
  return { periodMm, periodSdMm: scatterMm / Math.sqrt(leverage), offsetsMm, scatterMm, missesMm };
}

const medianSize = (values: readonly number[]): number => {
  const sizes = values.map(Math.abs).sort((a, b) => a - b);
  return sizes[sizes.length >> 1] ?? 0;
};

/** Whether every edge of the repeat was seen, one after the other. */
export const isOrdered = ({ offsetsMm, periodMm }: EdgeLattice): boolean =>
  [...offsetsMm, offsetsMm[0] + periodMm].every((o, b, all) => b === 0 || o > all[b - 1]);
