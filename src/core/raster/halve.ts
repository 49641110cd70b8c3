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
    // Colour pictures are large, and a loop over three channels takes twice as long.
    if (channels === 3) {
      for (const end = i + 6 * width; i < end; i += 6, j += 3) {
        const k = i + stride;
        out[j] = (data[i] + data[i + 3] + data[k] + data[k + 3] + 2) >> 2;
        out[j + 1] = (data[i + 1] + data[i + 4] + data[k + 1] + data[k + 4] + 2) >> 2;
        out[j + 2] = (data[i + 2] + data[i + 5] + data[k + 2] + data[k + 5] + 2) >> 2;
      }
      continue;
    }
    for (let x = 0; x < width; x++, i += 2 * channels) {
      for (let c = 0; c < channels; c++) {
        const k = i + c;
        out[j++] = (data[k] + data[k + channels] + data[k + stride] + data[k + stride + channels] + 2) >> 2;
      }
    }
  }
  return raster(width, height, channels, out);
}
