import { chiSquareQuantile } from '../../math/chi-square.js';
import { driftingFit } from '../../math/drifting-fit.js';
import type { BandModel } from '../../model/band-model.js';
import type { ClothPattern } from '../../model/cloth-pattern.js';
import type { EdgeSequence } from '../edge-sequence.js';
import { edgeVariances } from './edge-variances.js';

/** One size that the cloth's unevenness may have, as likely as `weight` says. Lists: one entry a band of the repeat. */
export interface UnevenSize {
  readonly weight: number;
  /** mm^2: each band's lower edge about its regular place, by itself. */
  readonly scatter: readonly number[];
  /** mm^2: each band's width, all further edges moving with it, so that the repeat itself drifts. */
  readonly steps: readonly number[];
}

/** How uneven the cloth is, as far as the model knows it. */
export interface Unevenness {
  /**
   * repeats: from every edge in view. widths: from the spread of the widths (or of the edges) alone, each edge straying by
   * itself about its place in a repeat that is taken as steady.
   */
  readonly basis: 'repeats' | 'widths';
  /** Weights add up to 1. */
  readonly sizes: readonly UnevenSize[];
  /** mm^2: how each band's lower edge wanders along its own stripe; comes on top, on either half. */
  readonly wander: readonly number[];
}

/** Edges in view beyond what their regular places take: fewer tell no size. With three the answer is within a factor of 2. */
const LEAST_FREEDOM = 3;

/** Null when the model knows nothing of the cloth's unevenness. */
export function clothUnevenness(
  model: BandModel,
  pattern: ClothPattern,
  sequence: EdgeSequence | null,
): Unevenness | null {
  const wander = edgeVariances(pattern.bands.map((band) => wanderAlong(model, band.id)));
  const sizes = sequence === null ? null : sizesFromRepeats(pattern.bands.length, sequence);
  if (sizes !== null) return { basis: 'repeats', sizes, wander };
  const scatter = edgeSpread(model);
  if (scatter === null) return null;
  return { basis: 'widths', sizes: [{ weight: 1, scatter, steps: scatter.map(() => 0) }], wander };
}

/**
 * Parts of the widths' variance that are drift, and how likely beforehand: a steady repeat, widths that each err by themselves,
 * and both together, a third each. Where both, small parts stand close together, since over a long seam they differ most.
 */
const DRIFT_SHARES: readonly { readonly share: number; readonly prior: number }[] = [
  { share: 0, prior: 1 / 3 },
  ...[0.01, 0.03, 0.1, 0.3, 0.7].map((share) => ({ share, prior: 1 / 15 })),
  // Not quite 1: no edge is read without any error of its own.
  { share: 0.998, prior: 1 / 3 },
];
/** Equally likely sizes for each part; more change no figure by a per cent. */
const SIZES_EACH = 8;
/** Sizes less likely than this are left out. */
const LEAST_WEIGHT = 3e-3;

/**
 * Edges are regular places (a place for each band, and a repeat: all unknown), plus scatter, plus drift. How much of either is
 * told by the restricted likelihood of the edges seen (Patterson and Thompson 1971, doi 10.1093/biomet/58.3.545), every part
 * and, by its logarithm, every size being as likely beforehand. Few repeats leave many sizes open, and all of them count: the
 * figures are then wider. Null when too few edges were seen.
 */
function sizesFromRepeats(bands: number, sequence: EdgeSequence): UnevenSize[] | null {
  const edges = Float64Array.from({ length: sequence.seen }, (_, k) => sequence.edgeU(k));
  const classes = Array.from(edges, (_, k) => sequence.bandAt(k));
  const turns = Float64Array.from(edges, (_, k) => sequence.repeatAt(k) - sequence.repeatAt(0));
  const columns = [...new Set(classes)].map((band) =>
    Float64Array.from(classes, (c) => (c === band ? 1 : 0)),
  );
  columns.push(turns);
  const freedom = edges.length - columns.length;
  if (freedom < LEAST_FREEDOM) return null;
  const stepShape = shapeOf(bands, widthErrors(bands, edges, classes));
  if (stepShape === null) {
    const still = Array.from({ length: bands }, () => 0);
    return [{ weight: 1, scatter: still, steps: still }];
  }
  const even = (variance: number): Float64Array => new Float64Array(edges.length).fill(variance);
  const fits = DRIFT_SHARES.map(({ share, prior }) => {
    const { restSquares, logDeterminant } = driftingFit(edges, columns, even((1 - share) / 2), even(share));
    const logLikelihood = Math.log(prior) - (logDeterminant + freedom * Math.log(restSquares)) / 2;
    return { share, restSquares, logLikelihood };
  });
  const steady = driftingFit(edges, columns, even(1), even(0));
  const scatterShape =
    shapeOf(
      bands,
      Array.from(steady.rest, (error, k) => ({ band: classes[k], error })),
    ) ?? stepShape;
  const best = Math.max(...fits.map((fit) => fit.logLikelihood));
  const weights = fits.map((fit) => Math.exp(fit.logLikelihood - best));
  const whole = weights.reduce((sum, w) => sum + w, 0);
  const sizes = fits.flatMap(({ share, restSquares }, i) => {
    const weight = weights[i] / whole;
    if (weight < LEAST_WEIGHT) return [];
    return Array.from({ length: SIZES_EACH }, (_, j) => {
      const size = restSquares / chiSquareQuantile(freedom, (j + 0.5) / SIZES_EACH);
      return {
        weight: weight / SIZES_EACH,
        scatter: scatterShape.map((v) => (v * (1 - share) * size) / 2),
        steps: stepShape.map((v) => v * share * size),
      };
    });
  });
  const kept = sizes.reduce((sum, one) => sum + one.weight, 0);
  return sizes.map((one) => ({ ...one, weight: one.weight / kept }));
}

/** How far a band's own variance is believed against the mean of all: as if that had been seen so many times more. */
const PRIOR_FREEDOM = 4;

interface BandError {
  readonly band: number;
  readonly error: number;
}

/**
 * Each band's variance as a part of the mean one: its own as far as it was seen often enough, else nearer the mean (moderated
 * variances: Smyth 2004, doi 10.2202/1544-6115.1027). Null where nothing varies.
 */
function shapeOf(bands: number, errors: readonly BandError[]): number[] | null {
  const squares = new Float64Array(bands);
  const freedoms = new Float64Array(bands).fill(-1);
  for (const { band, error } of errors) {
    squares[band] += error * error;
    freedoms[band]++;
  }
  const freedom = freedoms.reduce((sum, v) => sum + Math.max(0, v), 0);
  const mean = squares.reduce((sum, v) => sum + v, 0) / freedom;
  // Edges are given to a ten-thousandth of a mm: less is rounding.
  if (!(mean > 1e-8)) return null;
  return Array.from(
    squares,
    (v, b) => (v / mean + PRIOR_FREEDOM) / (Math.max(0, freedoms[b]) + PRIOR_FREEDOM),
  );
}

/** What each width departs by from the mean one of its band. */
function widthErrors(bands: number, edges: Float64Array, classes: readonly number[]): BandError[] {
  const sums = new Float64Array(bands);
  const counts = new Float64Array(bands);
  const widths = Array.from(edges.subarray(1), (end, k) => ({ band: classes[k], widthMm: end - edges[k] }));
  for (const { band, widthMm } of widths) {
    sums[band] += widthMm;
    counts[band]++;
  }
  return widths.map(({ band, widthMm }) => ({ band, error: widthMm - sums[band] / counts[band] }));
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
