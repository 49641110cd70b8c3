import { labOf } from '../../raster/lab-of.js';
import type { Raster } from '../../raster/raster.js';

/** L, a, b and texture of each pixel of a small copy. */
export const FEATURES = 4;
/** Texture in units that weigh about as much as Lab's: a doubling of the local scatter. */
const PER_DOUBLING = 4;
/** Scatter under this (units of L) is noise and coding. */
const QUIET = 0.7;

/**
 * What tells paper from what it lies on: its colour, and how restless it is. `small` is `finer` halved twice; the scatter of L over each
 * pixel's 4 x 4 pixels of the finer copy is the texture.
 */
export function featuresOf(small: Raster<Uint8Array>, finer: Raster<Uint8Array>): Float32Array {
  const lab = labOf(small).data;
  const fine = labOf(finer).data;
  const { width, height } = small;
  const out = new Float32Array(width * height * FEATURES);
  for (let y = 0, i = 0; y < height; y++) {
    for (let x = 0; x < width; x++, i++) {
      let sum = 0;
      let squares = 0;
      let n = 0;
      for (let v = 4 * y; v < Math.min(4 * y + 4, finer.height); v++) {
        for (
          let u = 4 * x, k = 3 * (v * finer.width + u);
          u < Math.min(4 * x + 4, finer.width);
          u++, k += 3
        ) {
          sum += fine[k];
          squares += fine[k] * fine[k];
          n++;
        }
      }
      const sd = Math.sqrt(Math.max(0, squares / n - (sum / n) ** 2));
      for (let c = 0; c < 3; c++) out[FEATURES * i + c] = lab[3 * i + c];
      out[FEATURES * i + 3] = PER_DOUBLING * Math.log2(1 + sd / QUIET);
    }
  }
  return out;
}

/**
 * The toll of a border between each pixel and its right and lower neighbours: `full` where the picture is even, a part of it where colours
 * change by more than they usually do.
 *
 * @param values channels a pixel, the first three counted
 */
export function tollsOf(
  values: Float32Array,
  channels: number,
  width: number,
  height: number,
  full: number,
): Float32Array {
  const n = width * height;
  const squares = new Float32Array(2 * n);
  let sum = 0;
  for (let y = 0, i = 0; y < height; y++) {
    for (let x = 0; x < width; x++, i++) {
      const right = x < width - 1 ? i + 1 : i;
      const lower = y < height - 1 ? i + width : i;
      let dx = 0;
      let dy = 0;
      for (let c = 0; c < 3; c++) {
        dx += (values[channels * right + c] - values[channels * i + c]) ** 2;
        dy += (values[channels * lower + c] - values[channels * i + c]) ** 2;
      }
      squares[2 * i] = dx;
      squares[2 * i + 1] = dy;
      sum += Math.min(dx, 100) + Math.min(dy, 100);
    }
  }
  const usual = sum / (2 * n) + 1;
  for (let k = 0; k < 2 * n; k++)
    squares[k] = full * (LEAST_TOLL + (1 - LEAST_TOLL) * Math.exp(-squares[k] / (2 * usual)));
  return squares;
}

/** Borders along the strongest edges are not free: they would wander. */
const LEAST_TOLL = 0.12;
