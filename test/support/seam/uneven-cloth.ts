import type { BandModel } from '../../../src/core/model/band-model.js';
import type { SeededRandom } from '../photo-painter/seeded-random.js';
import { instancesBetween } from './models.js';

/**
 * steady: every edge strays by itself about its place in a steady repeat. drifting: every width errs by itself, and all that
 * follows moves with it: a random walk.
 */
export type ClothKind = 'steady' | 'drifting';

/** Edges of a long stretch of cloth, edge k the start of band k (modulo the bands), straying by sdMm. */
export function unevenEdges(
  model: BandModel,
  kind: ClothKind,
  sdMm: number,
  random: SeededRandom,
): Float64Array {
  const n = model.bands.length;
  const repeatMm = model.repeat.across_mm as number;
  let walk = 0;
  return Float64Array.from({ length: 1000 * n }, (_, k) => {
    const regular = Math.floor(k / n) * repeatMm + model.bands[k % n].start_mm;
    if (kind === 'steady') return regular + sdMm * random.gaussian();
    const edge = regular + walk;
    walk += sdMm * random.gaussian();
    return edge;
  });
}

/** What a photo of `repeats` repeats from edge `from` on tells: nothing of the cloth's spread but the edges themselves. */
export function photographed(
  model: BandModel,
  edges: Float64Array,
  from: number,
  repeats: number,
): { readonly model: BandModel; readonly last: number } {
  const n = model.bands.length;
  const last = from + Math.round(repeats * n);
  const bands = model.bands.map((b) => ({ ...b, width_sd_mm: null, edge_sd_mm: null }));
  const seen = Array.from(edges.slice(from, last + 1));
  return { model: { ...model, bands, instances: instancesBetween(model, seen, from) }, last };
}

/**
 * The worst edge of a seam on the true cloth, mm along the seam: bands i and j (edges below them) at the marked point of the left
 * and right half, edges `from` to `to` counted from there. Plane trigonometry, knowing nothing of the program.
 */
export function trueWorstMm(
  edges: Float64Array,
  [i, j]: readonly [number, number],
  [from, to]: readonly [number, number],
  angleDeg: number,
): { readonly highMm: number; readonly lowMm: number } {
  const middle = (k: number): number => (edges[k] + edges[k + 1]) / 2;
  let highMm = Number.NEGATIVE_INFINITY;
  let lowMm = Number.POSITIVE_INFINITY;
  for (let m = from; m <= to; m++) {
    const miss = (edges[j + m] - middle(j) - edges[i + m] + middle(i)) / Math.sin((angleDeg * Math.PI) / 180);
    highMm = Math.max(highMm, miss);
    lowMm = Math.min(lowMm, miss);
  }
  return { highMm, lowMm };
}
