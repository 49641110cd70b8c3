import { foldedQuantiles } from '../../math/folded-normal.js';
import { quantiles } from '../../math/robust.js';
import type { SeededRandom } from '../../math/seeded-random.js';
import { type MissModel, missVariances } from './miss-model.js';

/** What edges of a seam may miss each other by, mm along the seam. */
export interface MismatchFigures {
  readonly median: number;
  readonly p90: number;
  /** Passed once in 370 times (three standard deviations of a normal distribution). */
  readonly greatest: number;
}

/** Three standard deviations of the normal distribution, both sides. */
export const GREATEST_QUANTILE = 0.9973;

const QUANTILES = [0.5, 0.9, GREATEST_QUANTILE];

/** Nine in ten of a normal distribution lie within so many standard deviations. */
const NINE_IN_TEN_SD = 1.6448536;

/** A spread no smaller than a nanometre, so that a cloth without any needs no case of its own. */
const LEAST_SD_MM = 1e-6;

/** The figures of each edge alone, in the order of the model's edges. */
export function figuresOfEdges(model: MissModel): MismatchFigures[] {
  const variances = model.sizes.map((size) => missVariances(model, size));
  return model.edges.map(({ edge, centreMm }) => {
    const parts = model.sizes.map(({ weight }, i) => ({
      centre: centreMm,
      sd: Math.max(LEAST_SD_MM, Math.sqrt(variances[i][edge - model.first])),
      weight,
    }));
    const [median, p90, greatest] = foldedQuantiles(parts, QUANTILES);
    return { median, p90, greatest };
  });
}

/**
 * Seams drawn, as far as so many edges allow, which take some hundredths of a second. 4000 give the ninth-in-ten value to 0.6 % (of
 * cloth that drifts, 0.9 %), the fewer of a seam of 250 edges to 1 % (2 %): standard deviations over 40 seeds, all far under what is not
 * known of the cloth.
 */
const MOST_SEAMS = 4000;
const LEAST_SEAMS = 400;
const EDGES_DRAWN = 200_000;

/** Largest and smallest (signed) miss of the edges of seams drawn by chance. */
export interface DrawnSeams {
  readonly highMm: Float64Array;
  readonly lowMm: Float64Array;
}

/**
 * Seams drawn by chance from what the cloth's unevenness may be. The worst edge of each is what a maker sees, and its quantile
 * is no edge's own: edges that go wrong together count once, and of many edges one is likelier to go wrong.
 */
export function drawSeams(model: MissModel, random: SeededRandom): DrawnSeams {
  const span = model.last - model.first + 1;
  const count = Math.round(Math.min(MOST_SEAMS, Math.max(LEAST_SEAMS, EDGES_DRAWN / span)));
  const highMm = new Float64Array(count);
  const lowMm = new Float64Array(count);
  const offsets = new Float64Array(span);
  let until = 0;
  let drawn = 0;
  for (const size of model.sizes) {
    until += size.weight;
    const sds = model.spreadsOf(size);
    // Each size as often as it is likely.
    for (; drawn < count && drawn + 0.5 <= until * count + 1e-9; drawn++) {
      drawOffsets(sds, -model.first, offsets, random);
      let high = Number.NEGATIVE_INFINITY;
      let low = Number.POSITIVE_INFINITY;
      for (const { edge, centreMm } of model.edges) {
        const miss = centreMm + offsets[edge - model.first];
        if (miss > high) high = miss;
        if (miss < low) low = miss;
      }
      highMm[drawn] = high;
      lowMm[drawn] = low;
    }
  }
  return { highMm: highMm.subarray(0, drawn), lowMm: lowMm.subarray(0, drawn) };
}

/** Offsets of all edges from the middle of the reference band, whose own edges are at `reference` and the next place. */
function drawOffsets(
  { scatterSd, stepSd }: { readonly scatterSd: Float64Array; readonly stepSd: Float64Array },
  reference: number,
  out: Float64Array,
  random: SeededRandom,
): void {
  let walk = 0;
  for (let k = reference; k < out.length; k++) {
    out[k] = walk + scatterSd[k] * random.gaussian();
    if (stepSd[k] > 0) walk += stepSd[k] * random.gaussian();
  }
  walk = 0;
  for (let k = reference - 1; k >= 0; k--) {
    if (stepSd[k] > 0) walk -= stepSd[k] * random.gaussian();
    out[k] = walk + scatterSd[k] * random.gaussian();
  }
  const middle = (out[reference] + out[reference + 1]) / 2;
  for (let k = 0; k < out.length; k++) out[k] -= middle;
}

/**
 * The worst edge's figures. handlingMm: how far laying, cutting and sewing slip one half along the seam against the other, nine
 * times in ten; 0 for the cloth alone.
 */
export function figuresOfWorst(seams: DrawnSeams, handlingMm: number, random: SeededRandom): MismatchFigures {
  const sd = handlingMm / NINE_IN_TEN_SD;
  const worst = seams.highMm.map((high, i) => {
    const slip = sd > 0 ? sd * random.gaussian() : 0;
    return Math.max(high + slip, -(seams.lowMm[i] + slip));
  });
  const [median, p90, greatest] = quantiles(worst, QUANTILES);
  return { median, p90, greatest };
}
