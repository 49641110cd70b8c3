import { labFromLinear } from '../colour/lab.js';
import { linearFromByte } from '../colour/srgb.js';
import type { StraightCloth } from '../rectify/straight-cloth.js';
import { type LightField, logGainAt } from './light-field.js';

/** Colour across the stripes, one entry a column of the straight picture. */
export interface CrossProfile {
  /** CIELAB, 3 values a column. */
  readonly lab: Float32Array;
  /** Linear sRGB, 3 values a column. */
  readonly linear: Float32Array;
  /** Share of the column's seen pixels that lie near the profile colour. */
  readonly agreement: Float32Array;
  /** Rows of cloth seen in the column, over the most seen in any: how far to trust it. */
  readonly weight: Float32Array;
  /** Columns with enough cloth in view: [from, to). */
  readonly from: number;
  readonly to: number;
  /** Every stretch with enough cloth (a ruler along the stripes parts them), the longest first; from..to is the first. */
  readonly runs: readonly (readonly [number, number])[];
}

/**
 * Robust colour of every column under even light: the median of each channel (motifs, wrinkles and dust are outliers), or
 * the mean for a check, whose crossing bands mix into every column evenly.
 */
export function crossProfile(cloth: StraightCloth, light: LightField, kind: 'median' | 'mean'): CrossProfile {
  const { width, height, data } = cloth.picture;
  const lab = new Float32Array(3 * width);
  const linear = new Float32Array(3 * width);
  const agreement = new Float32Array(width);
  // A mean must see every row: a sample of them would beat with the bands that cross.
  const most = kind === 'mean' ? height : 150;
  const channels = [0, 1, 2].map(() => new Float32Array(height));
  const enough = Math.max(10, 0.06 * height);
  const good = new Uint8Array(width);
  const weight = new Float32Array(width);
  const rowsSeen = new Uint32Array(width);
  for (let i = 0, x = 0; i < cloth.cloth.length; i++, x = x + 1 < width ? x + 1 : 0)
    rowsSeen[x] += cloth.cloth[i];
  const mostSeen = rowsSeen.reduce((m, n) => Math.max(m, n), 1);
  for (let x = 0; x < width; x++) {
    if (rowsSeen[x] < enough) continue;
    const rowStep = Math.max(1, Math.floor(rowsSeen[x] / most));
    let n = 0;
    for (let y = x % rowStep; y < height; y += rowStep) {
      const i = y * width + x;
      if (!cloth.cloth[i]) continue;
      const gain = Math.exp(-logGainAt(light, x + 0.5, y + 0.5));
      for (let c = 0; c < 3; c++) channels[c][n] = linearFromByte[data[3 * i + c]] * gain;
      n++;
    }
    if (n < 10) continue;
    good[x] = 1;
    weight[x] = rowsSeen[x] / mostSeen;
    const middle: [number, number, number] = [0, 0, 0];
    for (let c = 0; c < 3; c++) {
      const seen = channels[c].subarray(0, n);
      middle[c] = kind === 'mean' ? meanOf(seen) : medianOf(Float32Array.from(seen));
    }
    let near = 0;
    for (let k = 0; k < n; k++) {
      let off = 0;
      let size = 0.004;
      for (let c = 0; c < 3; c++) {
        off += Math.abs(channels[c][k] - middle[c]);
        size += middle[c];
      }
      if (off < 0.25 * size + 0.01) near++;
    }
    agreement[x] = near / n;
    linear.set(middle, 3 * x);
    lab.set(labFromLinear(middle), 3 * x);
  }
  const runs = runsOf(good);
  const [from, to] = runs[0] ?? [0, 0];
  return { lab, linear, agreement, weight, from, to, runs };
}

function medianOf(values: Float32Array): number {
  values.sort();
  const n = values.length;
  return n % 2 ? values[n >> 1] : (values[(n >> 1) - 1] + values[n >> 1]) / 2;
}

/** The plain mean: trimming would take more from the rarer of two crossing bands than from the other. */
function meanOf(values: Float32Array): number {
  let sum = 0;
  for (let i = 0; i < values.length; i++) sum += values[i];
  return sum / values.length;
}

function runsOf(good: Uint8Array): [number, number][] {
  const runs: [number, number][] = [];
  let from = 0;
  for (let x = 0; x <= good.length; x++) {
    if (good[x]) continue;
    if (x > from) runs.push([from, x]);
    from = x + 1;
  }
  return runs.sort((p, q) => q[1] - q[0] - (p[1] - p[0]));
}
