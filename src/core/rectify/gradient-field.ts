import type { Raster } from '../raster/raster.js';

/** Colour structure tensor of every pixel, summed over the channels; 0 at the picture's rim and beside hidden pixels. */
export interface GradientField {
  readonly width: number;
  readonly height: number;
  readonly xx: Float32Array;
  readonly xy: Float32Array;
  readonly yy: Float32Array;
}

/**
 * Gradients of all three channels (Di Zenzo 1986, doi 10.1016/0734-189X(86)90223-9), in levels a pixel.
 * `hidden` marks pixels to leave out (the ruler): 1 = hidden, same size as the picture. `gain`: times that levels count, where bands
 * differ by less than noise does elsewhere.
 */
export function gradientField(
  { width, height, channels, data }: Raster<Uint8Array>,
  hidden: Uint8Array,
  gain = 1,
): GradientField {
  const field: GradientField = {
    width,
    height,
    xx: new Float32Array(width * height),
    xy: new Float32Array(width * height),
    yy: new Float32Array(width * height),
  };
  const row = width * channels;
  const energy = gain ** 2 / 1024;
  for (let y = 1; y < height - 1; y++) {
    fillRow(field, data, hidden, y * width + 1, (y + 1) * width - 1, row, channels, energy);
  }
  return field;
}

/** Pixels p..end (half open) of one row; a small loop is compiled early. */
function fillRow(
  { width, xx, xy, yy }: GradientField,
  data: Uint8Array,
  hidden: Uint8Array,
  p: number,
  end: number,
  row: number,
  channels: number,
  energy: number,
): void {
  for (; p < end; p++) {
    if (
      hidden[p] |
      hidden[p - width - 1] |
      hidden[p - width + 1] |
      hidden[p + width - 1] |
      hidden[p + width + 1]
    )
      continue;
    let sxx = 0;
    let sxy = 0;
    let syy = 0;
    for (let k = p * channels, last = k + 3; k < last; k++) {
      // Scharr-like weights: even in all directions to a fraction of a degree.
      const nw = data[k - row - channels];
      const ne = data[k - row + channels];
      const sw = data[k + row - channels];
      const se = data[k + row + channels];
      const gx = 3 * (ne - nw + se - sw) + 10 * (data[k + channels] - data[k - channels]);
      const gy = 3 * (sw - nw + se - ne) + 10 * (data[k + row] - data[k - row]);
      sxx += gx * gx;
      sxy += gx * gy;
      syy += gy * gy;
    }
    xx[p] = energy * sxx;
    xy[p] = energy * sxy;
    yy[p] = energy * syy;
  }
}

/** Root of the energy beyond which an edge has no more say: a ruler's or a table's rim is no better a stripe for being strong. */
const MOST_VOTE = 12;

/** How many pixels' edges run in each direction (bins over [0, 180) degrees as seen), strong ones counting more. */
export function directionVotes(field: GradientField, bins: number): Float64Array {
  const known = keptVotes.get(field);
  if (known?.length === bins) return known;
  const { width, height, xx, xy, yy } = field;
  const votes = new Float64Array(bins);
  for (let y = 1; y < height - 1; y += 2) {
    for (let x = 1 + ((y >> 1) & 1); x < width - 1; x += 2) {
      const p = y * width + x;
      const energy = xx[p] + yy[p];
      if (energy < LEAST_ENERGY) continue;
      const cosine = xx[p] - yy[p];
      const sine = 2 * xy[p];
      const split = Math.sqrt(cosine * cosine + sine * sine);
      const gradient = 0.5 * Math.atan2(sine, cosine);
      // The stripe is square to its gradient; y turns over as seen.
      const turn = -(gradient / Math.PI + 0.5);
      votes[Math.min(bins - 1, Math.floor((turn - Math.floor(turn)) * bins))] += Math.min(
        MOST_VOTE,
        Math.sqrt(split),
      );
    }
  }
  keptVotes.set(field, votes);
  return votes;
}

/** The votes last counted of a field: what stands out in it and what else might are asked one after the other. */
const keptVotes = new WeakMap<GradientField, Float64Array>();

/** Weaker gradients (squared levels a pixel) are noise and weave. */
export const LEAST_ENERGY = 16;
