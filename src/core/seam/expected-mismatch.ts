import { foldedQuantiles } from '../math/folded-normal.js';
import { quantile } from '../math/robust.js';
import type { BandModel } from '../model/band-model.js';
import { type ClothPattern, wrap } from '../model/cloth-pattern.js';
import { type EdgeSequence, placesOf } from './edge-sequence.js';
import { placedSide, type SideEdges } from './side-edges.js';

/** What two edges of a seam may miss each other by, mm along the seam, when the halves come from any two repeats. */
export interface MismatchFigures {
  readonly median: number;
  readonly p90: number;
  /** Passed once in 370 times (three standard deviations); the greatest pair where only pairs are known. */
  readonly greatest: number;
}

/** One half's spread about the seam's other half, as far as the model knows it. */
export interface Unevenness {
  /**
   * repeats: every two repeats in view compared, edge by edge. widths: from the widths' spread, taken as
   * independent from band to band, so that it adds up along the seam from the matched point.
   */
  readonly basis: 'repeats' | 'widths';
  /**
   * Offsets (right less left, across the stripes) of edge m, one for every pair of places on the cloth.
   * toSeam turns the two sides' distances from the matched point into a difference along the seam.
   */
  readonly differences: (m: number, toSeam: (leftMm: number, rightMm: number) => number) => Float64Array;
  /** Spread of edge m on either half about those offsets, across the stripes: [left, right]. */
  readonly spreadMm: (m: number) => readonly [number, number];
}

/** Three standard deviations of the normal distribution, both sides. */
export const GREATEST_QUANTILE = 0.9973;

/** Comparing more repeats than this with each other costs time and tells nothing new. */
const MOST_PLACES = 16;

/** Null when the model knows nothing of the cloth's unevenness. left, right: bands at the reference point. */
export function unevenness(
  model: BandModel,
  pattern: ClothPattern,
  sequence: EdgeSequence | null,
  mean: { readonly left: SideEdges; readonly right: SideEdges },
  bands: { readonly left: number; readonly right: number; readonly reversed: boolean },
): Unevenness | null {
  const widthSd = model.bands.map((band) => band.width_sd_mm);
  const known = widthSd.every((sd) => sd !== null);
  const lefts = sequence === null ? [] : thinned(placesOf(sequence, bands.left));
  const rights = sequence === null ? [] : thinned(placesOf(sequence, bands.right));
  const pairs = lefts.flatMap((i) => rights.filter((j) => j !== i).map((j) => [i, j] as const));
  if (sequence !== null && (pairs.length >= 6 || (pairs.length >= 2 && !known))) {
    return fromRepeats(model, pattern, sequence, pairs, bands, mean);
  }
  if (!known) return null;
  return fromWidths(pattern, widthSd as number[], mean, bands);
}

function fromRepeats(
  model: BandModel,
  pattern: ClothPattern,
  sequence: EdgeSequence,
  pairs: readonly (readonly [number, number])[],
  bands: { readonly left: number; readonly right: number; readonly reversed: boolean },
  mean: { readonly left: SideEdges; readonly right: SideEdges },
): Unevenness {
  const sides = new Map<string, SideEdges>();
  const side = (place: number, reversed: boolean): SideEdges => {
    const key = `${place} ${reversed}`;
    let one = sides.get(key);
    if (one === undefined) {
      one = placedSide(sequence, place, reversed);
      sides.set(key, one);
    }
    return one;
  };
  // Each edge also wanders along its own stripe, and so does the band matched at the reference point.
  const wander = (band: number): number => model.bands[wrap(band, pattern.bands.length)].edge_sd_mm ?? 0;
  const variance = (edges: SideEdges, band: number, m: number): number => {
    const own = (wander(edges.bandAfter(m - 1)) ** 2 + wander(edges.bandAfter(m)) ** 2) / 2;
    const reference = wander(band) ** 2 / 2;
    // The reference band's own edge takes half of its wander back: (e0 + e1) / 2 - e0 = (e1 - e0) / 2.
    return m === 0 || m === 1 ? own / 2 : own + reference;
  };
  return {
    basis: 'repeats',
    differences: (m, toSeam) =>
      Float64Array.from(pairs, ([i, j]) =>
        toSeam(side(i, false).offsetMm(m), side(j, bands.reversed).offsetMm(m)),
      ),
    spreadMm: (m) => [
      Math.sqrt(variance(mean.left, bands.left, m)),
      Math.sqrt(variance(mean.right, bands.right, m)),
    ],
  };
}

function fromWidths(
  pattern: ClothPattern,
  widthSdMm: readonly number[],
  mean: { readonly left: SideEdges; readonly right: SideEdges },
  bands: { readonly left: number; readonly right: number },
): Unevenness {
  const n = pattern.bands.length;
  const repeatVariance = widthSdMm.reduce((sum, sd) => sum + sd * sd, 0);
  // Half the reference band's width, then every band between.
  const variance = (edges: SideEdges, band: number, m: number): number => {
    const steps = m >= 1 ? m - 1 : -m;
    let sum = widthSdMm[band] ** 2 / 4 + Math.floor(steps / n) * repeatVariance;
    for (let k = 1; k <= steps % n; k++) {
      sum += widthSdMm[edges.bandAfter(m >= 1 ? k : -k)] ** 2;
    }
    return sum;
  };
  return {
    basis: 'widths',
    differences: (m, toSeam) => Float64Array.of(toSeam(mean.left.offsetMm(m), mean.right.offsetMm(m))),
    spreadMm: (m) => [
      Math.sqrt(variance(mean.left, bands.left, m)),
      Math.sqrt(variance(mean.right, bands.right, m)),
    ],
  };
}

/**
 * The figures for one edge. differencesMm: along the seam, one a pair; sdMm: normal spread about each.
 */
export function mismatchFigures(differencesMm: Float64Array, sdMm: number): MismatchFigures {
  const [median, p90, greatest] =
    sdMm > 1e-6
      ? foldedQuantiles(differencesMm, sdMm, [0.5, 0.9, GREATEST_QUANTILE])
      : [0.5, 0.9, 1].map((q) => quantile(Float64Array.from(differencesMm, Math.abs), q));
  return { median, p90, greatest };
}

function thinned(places: readonly number[]): number[] {
  const step = Math.max(1, places.length / MOST_PLACES);
  const kept: number[] = [];
  for (let i = 0; i < places.length; i += step) kept.push(places[Math.floor(i)]);
  return kept;
}
