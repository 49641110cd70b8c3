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
   * repeats: every two repeats in view compared, edge by edge, with each edge's wander along its own stripe.
   * widths: from the spread of the widths (or of the edges) alone, each edge straying by itself about its
   * place in a steady repeat.
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
  const spread = edgeSpread(model);
  const lefts = sequence === null ? [] : thinned(placesOf(sequence, bands.left));
  const rights = sequence === null ? [] : thinned(placesOf(sequence, bands.right));
  const pairs = lefts.flatMap((i) => rights.filter((j) => j !== i).map((j) => [i, j] as const));
  if (sequence !== null && (pairs.length >= 6 || (pairs.length >= 2 && spread === null))) {
    return fromRepeats(model, pattern, sequence, pairs, bands, mean);
  }
  return spread === null ? null : fromSpread(spread, mean, bands.reversed);
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
  const variances = edgeVariances(pattern.bands.map((band) => wanderAlong(model, band.id)));
  return {
    basis: 'repeats',
    differences: (m, toSeam) =>
      Float64Array.from(pairs, ([i, j]) =>
        toSeam(side(i, false).offsetMm(m), side(j, bands.reversed).offsetMm(m)),
      ),
    spreadMm: (m) => [
      offsetSd(variances, mean.left, m, false),
      offsetSd(variances, mean.right, m, bands.reversed),
    ],
  };
}

function fromSpread(
  variances: readonly number[],
  mean: { readonly left: SideEdges; readonly right: SideEdges },
  reversed: boolean,
): Unevenness {
  return {
    basis: 'widths',
    differences: (m, toSeam) => Float64Array.of(toSeam(mean.left.offsetMm(m), mean.right.offsetMm(m))),
    spreadMm: (m) => [offsetSd(variances, mean.left, m, false), offsetSd(variances, mean.right, m, reversed)],
  };
}

/** How much a band's width changes along one stripe, over all instances in view; 0 where nothing is known. */
function wanderAlong(model: BandModel, band: string): number {
  const known = model.instances.flatMap((one) =>
    one.band === band && one.width_sd_mm !== null ? [one.width_sd_mm ** 2] : [],
  );
  return known.length === 0 ? 0 : Math.sqrt(known.reduce((sum, v) => sum + v, 0) / known.length);
}

/** Variance of each band's lower edge about its regular place: from the widths' spread, else as the model states it. */
function edgeSpread(model: BandModel): number[] | null {
  const widths = model.bands.map((band) => band.width_sd_mm);
  if (widths.every((sd) => sd !== null)) return edgeVariances(widths);
  const edges = model.bands.map((band) => band.edge_sd_mm);
  return edges.every((sd) => sd !== null) ? edges.map((sd) => sd * sd) : null;
}

/**
 * Spread of the distance from the middle of the reference band to edge m. variances: of the lower edge in u
 * of each band, independent. The reference band's own edges take half of their straying back.
 */
function offsetSd(variances: readonly number[], side: SideEdges, m: number, reversed: boolean): number {
  const at = (edge: number): number => variances[side.bandAfter(reversed ? edge - 1 : edge)];
  const reference = (at(0) + at(1)) / 4;
  return Math.sqrt(m === 0 || m === 1 ? reference : reference + at(m));
}

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
