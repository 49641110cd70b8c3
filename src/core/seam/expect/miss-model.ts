import type { Crossing, SeamSides } from '../crossings.js';
import { sinDeg } from '../seam-lengths.js';
import type { SeamRequest } from '../seam-request.js';
import type { Unevenness, UnevenSize } from './unevenness.js';

/** One edge of a seam and where, on the whole, its right part lies against its left one. */
export interface EdgeOfSeam {
  /** Counted from the reference band: 0 its upper edge, 1 its lower one. */
  readonly edge: number;
  /** Right less left, mm along the seam, were the cloth even (or, of known places, as measured). */
  readonly centreMm: number;
}

/** Standard deviations, mm along the seam, from edge `first` on: of each edge by itself, and of the band below it. */
export interface Spreads {
  readonly scatterSd: Float64Array;
  readonly stepSd: Float64Array;
}

/**
 * How the edges of a seam miss each other by chance: edge m by centre + (U(m) - (U(0) + U(1)) / 2), since the halves are laid by
 * the middle of the reference band. U is what both halves' edges stray by, each by itself and with the drift of the widths
 * between; the halves are cut from places that know nothing of each other.
 */
export interface MissModel {
  /** The edges that count, ascending. */
  readonly edges: readonly EdgeOfSeam[];
  /** First and last edge of the stretch that holds them and the reference band's own. */
  readonly first: number;
  readonly last: number;
  readonly sizes: readonly UnevenSize[];
  readonly spreadsOf: (size: UnevenSize) => Spreads;
}

/** The halves cut from any two places of the cloth. */
export function missModel(
  crossings: readonly Crossing[],
  sides: SeamSides,
  request: SeamRequest,
  uneven: Unevenness,
): MissModel {
  return modelOf(crossings, sides, request, uneven.sizes, uneven.wander);
}

/** The halves cut from two places whose edges were measured: only their wander along the stripes is open. */
export function missModelOfPlaces(
  crossings: readonly Crossing[],
  sides: SeamSides,
  request: SeamRequest,
  wander: readonly number[],
): MissModel {
  const still = wander.map(() => 0);
  return modelOf(crossings, sides, request, [{ weight: 1, scatter: still, steps: still }], wander);
}

function modelOf(
  crossings: readonly Crossing[],
  sides: SeamSides,
  request: SeamRequest,
  sizes: readonly UnevenSize[],
  wander: readonly number[],
): MissModel {
  const edges = crossings.map((one) => ({ edge: one.edge, centreMm: one.rightMm - one.leftMm }));
  const first = edges.reduce((least, one) => Math.min(least, one.edge), 0);
  const last = edges.reduce((most, one) => Math.max(most, one.edge), 1);
  // Variances along the seam.
  const left = 1 / sinDeg(request.leftDeg) ** 2;
  const right = 1 / sinDeg(request.rightDeg) ** 2;
  const reversed = request.lay === 'same-way';
  const { left: l, right: r } = sides;
  // On a half that reads the bands backwards the edge above a band is its upper one in u.
  const lowerOf = (m: number): number => r.bandAfter(reversed ? m - 1 : m);
  const scatter = (size: UnevenSize, m: number): number =>
    left * (size.scatter[l.bandAfter(m)] + wander[l.bandAfter(m)]) +
    right * (size.scatter[lowerOf(m)] + wander[lowerOf(m)]);
  const step = (size: UnevenSize, m: number): number =>
    left * size.steps[l.bandAfter(m)] + right * size.steps[r.bandAfter(m)];
  return {
    edges,
    first,
    last,
    sizes,
    spreadsOf: (size) => {
      const list = (of: (size: UnevenSize, m: number) => number): Float64Array =>
        Float64Array.from({ length: last - first + 1 }, (_, k) => Math.sqrt(of(size, first + k)));
      return { scatterSd: list(scatter), stepSd: list(step) };
    },
  };
}

/** Variance of the miss of each edge from `first` on about its centre, for one size. */
export function missVariances(model: MissModel, size: UnevenSize): Float64Array {
  const { scatterSd, stepSd } = model.spreadsOf(size);
  const at = -model.first;
  const reference = (scatterSd[at] ** 2 + scatterSd[at + 1] ** 2 + stepSd[at] ** 2) / 4;
  const variances = new Float64Array(scatterSd.length).fill(reference);
  let walk = 0;
  for (let k = at + 2; k < variances.length; k++) {
    walk += stepSd[k - 1] ** 2;
    variances[k] += walk + scatterSd[k] ** 2;
  }
  walk = 0;
  for (let k = at - 1; k >= 0; k--) {
    walk += stepSd[k] ** 2;
    variances[k] += walk + scatterSd[k] ** 2;
  }
  return variances;
}
