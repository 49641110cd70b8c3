import { type Raster, raster } from './raster.js';

/** Half the size by 2 x 2 means, any number of channels; an odd last row or column is dropped. */
export function halve(picture: Raster<Uint8Array>): Raster<Uint8Array> {
  const { channels, data } = picture;
  const width = picture.width >> 1;
  const height = picture.height >> 1;
  const stride = picture.width * channels;
  const out = new Uint8Array(width * height * channels);
  let j = 0;
  for (let y = 0; y < height; y++) {
    let i = 2 * y * stride;
    for (let x = 0; x < width; x++, i += 2 * channels) {
      for (let c = 0; c < channels; c++) {
        const k = i + c;
        out[j++] = (data[k] + data[k + channels] + data[k + stride] + data[k + stride + channels] + 2) >> 2;
      }
    }
  }
  return raster(width, height, channels, out);
}
