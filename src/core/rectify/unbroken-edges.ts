import { linearFromByte } from '../colour/srgb.js';
import type { StraightCloth } from './straight-cloth.js';

/** Strips along the stripes are about this long, so that a motif or a gap between two fills one; and no more than so many. */
const STRIP_MM = 2.5;
const MOST_STRIPS = 90;
/** A strip shows a column where this part of its rows is cloth; an edge is judged in this many strips at least. */
const LEAST_SEEN = 0.5;
const FEWEST_STRIPS = 10;
/** An edge is followed to this many columns on either side of where it lies on the average. */
const REACH = 2;
/** Slopes below this part of the steepest edge's, or this times what the usual column shows, are no edge. */
const LEAST_SLOPE = 0.08;
const ABOVE_USUAL = 4;
/** A selvage and the rim of a table are two edges side by side; bands have more, over this part of the picture at least. */
const FEWEST_EDGES = 3;
const LEAST_SPREAD = 0.3;
/** A step is the edge's own between these parts of its mean. */
const OWN_STEP = [0.5, 1.6] as const;

/**
 * How unbroken the edges run that a straight picture shows down its columns: the share of their length at which the step is about
 * the edge's mean step, for the middle edge of all. Woven bands have the same step all along, whatever crosses them, since
 * the yarns of both directions add their light; the rims of motifs in rows make edges across with gaps, and with steps that change
 * with the band they lie on. Null where too few edges are seen.
 */
export function unbrokenShare(cloth: StraightCloth): number | null {
  const { width, height } = cloth.picture;
  const count = Math.min(
    MOST_STRIPS,
    Math.max(FEWEST_STRIPS, Math.round((height * cloth.mmPerRow) / STRIP_MM)),
    height,
  );
  const strips = Array.from({ length: count }, (_, k) =>
    slopesOf(cloth, Math.round((k * height) / count), Math.round(((k + 1) * height) / count)),
  );
  // What is not quite straight yet smears edges over the height, not over a third of it.
  const parts = [0, 1, 2].map(
    (p) => [Math.floor((p * count) / 3), Math.floor(((p + 1) * count) / 3)] as const,
  );
  const shares = parts
    .map(([from, to]) => shareFrom(strips, from, to, width))
    .filter((share) => share !== null);
  return shares.length > 0 ? Math.max(...shares) : null;
}

/** The same of the edges that the strips from..to show. */
function shareFrom(strips: readonly Float32Array[], from: number, to: number, width: number): number | null {
  const mean = meanSlopes(strips.slice(from, to), width);
  const edges = edgesOf(mean, width).flatMap((x) => {
    const share = shareAlong(strips, mean, x, (from + to) >> 1);
    return share === null ? [] : [{ x, share }];
  });
  if (edges.length < FEWEST_EDGES || edges[edges.length - 1].x - edges[0].x < LEAST_SPREAD * width)
    return null;
  const shares = edges.map(({ share }) => share).sort((p, q) => p - q);
  return shares[shares.length >> 1];
}

/** Mean slope across, over three columns, of the linear light of rows from..to; three values a column, NaN where unseen. */
function slopesOf({ picture, cloth }: StraightCloth, from: number, to: number): Float32Array {
  const { width, data } = picture;
  const sums = new Float32Array(3 * width);
  const counts = new Uint16Array(width);
  for (let y = from; y < to; y++) {
    for (let x = 1; x + 1 < width; x++) {
      const i = y * width + x;
      if (!(cloth[i - 1] && cloth[i] && cloth[i + 1])) continue;
      counts[x]++;
      for (let c = 0; c < 3; c++)
        sums[3 * x + c] += linearFromByte[data[3 * i + 3 + c]] - linearFromByte[data[3 * i - 3 + c]];
    }
  }
  for (let x = 0; x < width; x++) {
    const seen = counts[x] > 0 && counts[x] >= LEAST_SEEN * (to - from);
    for (let c = 0; c < 3; c++) sums[3 * x + c] = seen ? sums[3 * x + c] / counts[x] : Number.NaN;
  }
  return sums;
}

function meanSlopes(strips: readonly Float32Array[], width: number): Float32Array {
  const mean = new Float32Array(3 * width).fill(Number.NaN);
  for (let x = 0; x < width; x++) {
    let n = 0;
    const sum = [0, 0, 0];
    for (const strip of strips) {
      if (Number.isNaN(strip[3 * x])) continue;
      n++;
      for (let c = 0; c < 3; c++) sum[c] += strip[3 * x + c];
    }
    if (n >= FEWEST_STRIPS / 3) for (let c = 0; c < 3; c++) mean[3 * x + c] = sum[c] / n;
  }
  return mean;
}

/** Columns at which the mean slope is steepest. */
function edgesOf(mean: Float32Array, width: number): number[] {
  const size = Float32Array.from({ length: width }, (_, x) =>
    Math.hypot(mean[3 * x], mean[3 * x + 1], mean[3 * x + 2]),
  );
  const known = size.filter((s) => !Number.isNaN(s)).sort();
  if (known.length === 0) return [];
  const usual = known[known.length >> 1];
  const least = Math.max(LEAST_SLOPE * known[known.length - 1], ABOVE_USUAL * usual, 1e-4);
  const edges: number[] = [];
  for (let x = REACH + 1; x + REACH + 1 < width; x++) {
    if (size[x] >= least && size[x] >= size[x - 1] && size[x] > size[x + 1]) edges.push(x);
  }
  return edges;
}

/**
 * Share of the strips in which the step at column x is about its mean, in the half where it is most; null where too few show it. It is
 * followed from the strip `start` both ways, from where it was last seen.
 */
function shareAlong(
  strips: readonly Float32Array[],
  mean: Float32Array,
  x: number,
  start: number,
): number | null {
  const found = new Float64Array(strips.length).fill(Number.NaN);
  const own = mean[3 * x] ** 2 + mean[3 * x + 1] ** 2 + mean[3 * x + 2] ** 2;
  for (const way of [1, -1] as const) {
    let at = x;
    for (let k = way > 0 ? start : start - 1; k >= 0 && k < strips.length; k += way) {
      let most = Number.NEGATIVE_INFINITY;
      let place = at;
      for (let d = -REACH; d <= REACH; d++) {
        let along = 0;
        for (let c = 0; c < 3; c++) along += strips[k][3 * (at + d) + c] * mean[3 * x + c];
        if (along <= most) continue;
        most = along;
        place = at + d;
      }
      found[k] = most;
      if (most > OWN_STEP[0] * own) at = Math.max(at - 1, Math.min(at + 1, place));
    }
  }
  const steps = Array.from(found).filter((step) => Number.isFinite(step));
  if (steps.length < FEWEST_STRIPS) return null;
  // The cloth may end half-way, or a hand lie on it: what counts is the most unbroken half.
  const long = Math.max(FEWEST_STRIPS, Math.ceil(steps.length / 2));
  let most = 0;
  for (let from = 0; from + long <= steps.length; from += Math.max(1, long >> 3)) {
    const part = steps.slice(from, from + long);
    const usual = part.reduce((sum, step) => sum + step, 0) / long;
    const own = part.filter((step) => step >= OWN_STEP[0] * usual && step <= OWN_STEP[1] * usual).length;
    most = Math.max(most, own / long);
  }
  return most;
}
