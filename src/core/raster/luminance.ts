import { type Raster, raster } from './raster.js';

/**
 * Encoded luma of an 8-bit RGB picture, Rec. 709 weights in 1/256 (54, 183, 19). Encoded rather than linear:
 * edges and ticks are then equally visible in light and shade.
 */
export function lumaOf(picture: Raster<Uint8Array>): Raster<Uint8Array> {
  const { width, height, channels, data } = picture;
  const luma = new Uint8Array(width * height);
  for (let i = 0, j = 0; i < luma.length; i++, j += channels) {
    luma[i] = (54 * data[j] + 183 * data[j + 1] + 19 * data[j + 2] + 128) >> 8;
  }
  return raster(width, height, 1, luma);
}
