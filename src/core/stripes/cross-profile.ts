import { labFromLinear } from '../colour/lab.js';
import { linearFromByte } from '../colour/srgb.js';
import { middleOf } from '../math/select.js';
import type { StraightCloth } from '../rectify/straight-cloth.js';
import { columnEffects } from './column-effects.js';
import { evenGains, type LightField } from './light-field.js';

/** Colour across the stripes, one entry a column of the straight picture. */
export interface CrossProfile {
  /** CIELAB, 3 values a column. */
  readonly lab: Float32Array;
  /** Linear sRGB, 3 values a column. */
  readonly linear: Float32Array;
  /** Share of the column's seen pixels that lie near the profile colour. */
  readonly agreement: Float32Array;
  /** The same, much nearer: pale motifs on a pale band are told by it where weave and noise allow. */
  readonly closeAgreement: Float32Array;
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
 * the column's own part for a check, whose crossing bands mix into every column.
 */
export function crossProfile(
  cloth: StraightCloth,
  light: LightField,
  mixing: 'stripe' | 'check',
): CrossProfile {
  const { width, height } = cloth.picture;
  const lab = new Float32Array(3 * width);
  const linear = new Float32Array(3 * width);
  const agreement = new Float32Array(width);
  const closeAgreement = new Float32Array(width);
  const most = mixing === 'check' ? height : 150;
  const effects = mixing === 'check' ? columnEffects(cloth, light) : null;
  const channels = [0, 1, 2].map(() => new Float64Array(height));
  const sorted = new Float64Array(height);
  const gains = new Float64Array(height);
  const enough = Math.max(10, 0.06 * height);
  const good = new Uint8Array(width);
  const weight = new Float32Array(width);
  const rowsSeen = new Uint32Array(width);
  for (let y = 0; y < height; y++) addRow(cloth.cloth, y * width, rowsSeen);
  const mostSeen = rowsSeen.reduce((m, n) => Math.max(m, n), 1);
  for (let x = 0; x < width; x++) {
    if (rowsSeen[x] < enough) continue;
    const rowStep = Math.max(1, Math.floor(rowsSeen[x] / most));
    evenGains(light, x, x % rowStep, rowStep, gains);
    const n = evenColumn(cloth, x, rowStep, gains, channels);
    if (n < 10) continue;
    good[x] = 1;
    weight[x] = rowsSeen[x] / mostSeen;
    const middle: [number, number, number] = [0, 0, 0];
    for (let c = 0; c < 3; c++) {
      if (effects) middle[c] = Math.max(0, effects[3 * x + c]);
      else {
        sorted.set(channels[c]);
        middle[c] = middleOf(sorted, n);
      }
    }
    const [r, g, b] = middle;
    const reach = 0.25 * (r + g + b + 0.004) + 0.01;
    agreement[x] = countNear(channels, n, middle, reach) / n;
    closeAgreement[x] = countNear(channels, n, middle, 0.4 * reach) / n;
    linear.set(middle, 3 * x);
    lab.set(labFromLinear(middle), 3 * x);
  }
  const runs = runsOf(good);
  const [from, to] = runs[0] ?? [0, 0];
  return { lab, linear, agreement, closeAgreement, weight, from, to, runs };
}

type Channels = readonly Float64Array[];

function addRow(marks: Uint8Array, start: number, counts: Uint32Array): void {
  for (let x = 0; x < counts.length; x++) counts[x] += marks[start + x];
}

/** Linear light of every `step`-th pixel of cloth in column x, under even light. Returns how many. */
function evenColumn(
  { picture: { width, height, data }, cloth }: StraightCloth,
  x: number,
  step: number,
  gains: Float64Array,
  [red, green, blue]: Channels,
): number {
  let n = 0;
  for (let y = x % step, g = 0; y < height; y += step, g++) {
    const i = y * width + x;
    if (!cloth[i]) continue;
    const gain = gains[g];
    red[n] = linearFromByte[data[3 * i]] * gain;
    green[n] = linearFromByte[data[3 * i + 1]] * gain;
    blue[n] = linearFromByte[data[3 * i + 2]] * gain;
    n++;
  }
  return n;
}

/** How many of the first n lie within `reach` of a colour, its channels' differences added up. */
function countNear(
  [red, green, blue]: Channels,
  n: number,
  [r, g, b]: readonly number[],
  reach: number,
): number {
  let near = 0;
  for (let k = 0; k < n; k++) {
    if (Math.abs(red[k] - r) + Math.abs(green[k] - g) + Math.abs(blue[k] - b) < reach) near++;
  }
  return near;
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
