import { type PixelData, type Raster, raster } from './raster.js';

/**
 * Gaussian blur of a one-channel picture, standard deviation in px, cut off at four of them; beyond the border the
 * border value is held.
 */
export function gaussianBlur(picture: Raster<PixelData>, sdPx: number): Raster<Float32Array> {
  if (picture.channels !== 1) {
    throw new RangeError(`blur: expected a picture of 1 channel, received ${picture.channels}`);
  }
  const { width, height } = picture;
  if (!(sdPx > 0)) return raster(width, height, 1, Float32Array.from(picture.data));
  const reach = Math.ceil(4 * sdPx);
  const kernel = Float64Array.from({ length: 2 * reach + 1 }, (_, i) =>
    Math.exp(-0.5 * ((i - reach) / sdPx) ** 2),
  );
  const total = kernel.reduce((sum, v) => sum + v, 0);
  for (let i = 0; i < kernel.length; i++) kernel[i] /= total;

  const level = new Float32Array(width * height);
  const padded = new Float32Array(width + 2 * reach);
  for (let y = 0; y < height; y++) {
    const row = y * width;
    for (let i = 0; i < padded.length; i++) {
      padded[i] = picture.data[row + Math.min(Math.max(i - reach, 0), width - 1)];
    }
    for (let x = 0; x < width; x++) {
      let sum = 0;
      for (let k = 0; k < kernel.length; k++) sum += kernel[k] * padded[x + k];
      level[row + x] = sum;
    }
  }
  // Down the columns a whole row at a time: memory is then read in order.
  const blurred = new Float32Array(width * height);
  for (let y = 0; y < height; y++) {
    const out = y * width;
    for (let k = 0; k < kernel.length; k++) {
      const from = Math.min(Math.max(y + k - reach, 0), height - 1) * width;
      const weight = kernel[k];
      for (let x = 0; x < width; x++) blurred[out + x] += weight * level[from + x];
    }
  }
  return raster(width, height, 1, blurred);
}
