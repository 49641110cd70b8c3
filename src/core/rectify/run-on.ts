import { linearFromByte } from '../colour/srgb.js';
import { selectKth } from '../math/select.js';
import type { StraightCloth } from './straight-cloth.js';

/** Strips that a straight picture is cut into along its stripes; a part of the picture shorter than one is not told from a print. */
const STRIPS = 48;
/** Edges are followed over this part of the picture: half of a garment laid on a table may be table, and no edge goes on there. */
const FOLLOWED = 1 / 3;
/** An edge is looked for so many columns to either side of where it was last seen. */
const REACH = 2;
/** A strip shows a column where this part of its rows is cloth. */
const LEAST_SEEN = 0.5;
/** Slopes below this part of a strip's steepest, so many times its middle one, or this step of linear light, are no edge. */
const LEAST_SLOPE = 0.08;
const ABOVE_USUAL = 3;
const FAINTEST = 1e-3;
/** So much of a step is left where light falls off, or a thread of a check crosses; less is another edge, or none. */
const SAME_STEP = 0.4;

export interface RunOn {
  /** Of the edges at any place, what part is there one strip further along the stripes, two, three ... each 0..1. */
  readonly shares: readonly number[];
  /** From one strip to the next, mm. */
  readonly stepMm: number;
}

/**
 * How far the edges that a straight picture shows down its columns run on: each is followed from every strip along the stripes, by its
 * step of colour, and looked for again beyond each gap, so that a print over stripes, or a fold, ends none. Stripes and checks keep their
 * share however far they are followed; of cloth in blocks it falls in a line to next to nothing over a block's length, as the
 * autocorrelation of a train of pulses does, whether blocks are turned, shifted, or are the legs of a zigzag. Null without any edge.
 */
export function runOn({ picture, cloth, mmPerRow }: StraightCloth): RunOn | null {
  const { width, height } = picture;
  const count = Math.min(STRIPS, height);
  const strips = Array.from({ length: count }, (_, k) =>
    slopesOf(
      picture.data,
      cloth,
      width,
      Math.round((k * height) / count),
      Math.round(((k + 1) * height) / count),
    ),
  );
  const lags = Math.floor(count * FOLLOWED);
  const kept = new Float64Array(lags);
  const all = new Float64Array(lags);
  for (let k = 0; k < count; k++) {
    // Towards the farther end, so that every edge can be followed all the way.
    const ahead =
      k < count / 2 ? strips.slice(k + 1, k + 1 + lags) : strips.slice(Math.max(0, k - lags), k).reverse();
    for (const x of edgesOf(strips[k], width)) followEdge(strips[k], ahead, x, kept, all);
  }
  if (lags === 0 || all.some((sum) => sum === 0)) return null;
  return { shares: Array.from(kept, (sum, i) => sum / all[i]), stepMm: (height * mmPerRow) / count };
}

/**
 * Length of the blocks in which edges break off, mm: where they fall in a line from all to the fewest, half are gone after half a block.
 */
export function blockLengthMm({ shares, stepMm }: RunOn): number {
  const half = (1 + Math.min(...shares)) / 2;
  const at = shares.findIndex((share) => share < half);
  const before = at > 0 ? shares[at - 1] : 1;
  return 2 * stepMm * (at + (before - half) / (before - shares[at]));
}

/** Mean slope across of the linear light of rows from..to; three values a column, NaN where unseen. */
function slopesOf(
  data: Uint8Array,
  cloth: Uint8Array,
  width: number,
  from: number,
  to: number,
): Float32Array {
  const sums = new Float32Array(3 * width);
  const counts = new Uint16Array(width);
  for (let y = from; y < to; y++) {
    const row = y * width;
    for (let x = 1; x + 1 < width; x++) {
      const i = row + x;
      if (cloth[i - 1] === 0 || cloth[i] === 0 || cloth[i + 1] === 0) continue;
      const k = 3 * x;
      const p = 3 * i;
      counts[x]++;
      sums[k] += linearFromByte[data[p + 3]] - linearFromByte[data[p - 3]];
      sums[k + 1] += linearFromByte[data[p + 4]] - linearFromByte[data[p - 2]];
      sums[k + 2] += linearFromByte[data[p + 5]] - linearFromByte[data[p - 1]];
    }
  }
  for (let x = 0, k = 0; x < width; x++, k += 3) {
    const seen = counts[x] > 0 && counts[x] >= LEAST_SEEN * (to - from) ? counts[x] : Number.NaN;
    sums[k] /= seen;
    sums[k + 1] /= seen;
    sums[k + 2] /= seen;
  }
  return sums;
}

/** Columns of a strip at which its slope is steepest. */
function edgesOf(strip: Float32Array, width: number): number[] {
  const size = new Float32Array(width);
  for (let x = 0, k = 0; x < width; x++, k += 3)
    size[x] = Math.sqrt(strip[k] ** 2 + strip[k + 1] ** 2 + strip[k + 2] ** 2);
  const known = size.filter((s) => !Number.isNaN(s));
  if (known.length === 0) return [];
  const steepest = known.reduce((most, s) => Math.max(most, s), 0);
  const usual = selectKth(known, known.length, known.length >> 1);
  const least = Math.max(LEAST_SLOPE * steepest, ABOVE_USUAL * usual, FAINTEST);
  const edges: number[] = [];
  for (let x = REACH + 1; x + REACH + 1 < width; x++)
    if (size[x] >= least && size[x] >= size[x - 1] && size[x] > size[x + 1]) edges.push(x);
  return edges;
}

/** Adds an edge to the sum of `all` for each strip ahead that can show it, and to that of `kept` for each that does. */
function followEdge(
  strip: Float32Array,
  ahead: readonly Float32Array[],
  x: number,
  kept: Float64Array,
  all: Float64Array,
): void {
  const [red, green, blue] = strip.subarray(3 * x, 3 * x + 3);
  const energy = red * red + green * green + blue * blue;
  const size = Math.sqrt(energy);
  let at = x;
  ahead.forEach((other, lag) => {
    let most = Number.NEGATIVE_INFINITY;
    let place = at;
    for (let q = Math.max(0, at - REACH); 3 * q < other.length && q <= at + REACH; q++) {
      const along = red * other[3 * q] + green * other[3 * q + 1] + blue * other[3 * q + 2];
      if (along <= most || Number.isNaN(along)) continue;
      most = along;
      place = q;
    }
    if (most === Number.NEGATIVE_INFINITY) return;
    all[lag] += size;
    if (most < SAME_STEP * energy) return;
    kept[lag] += size;
    at = place;
  });
}
