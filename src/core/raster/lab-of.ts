import { labOfBytes } from '../colour/lab-of-bytes.js';
import { type Raster, raster } from './raster.js';

/** CIELAB (D65) of an encoded sRGB picture: 3 channels, L 0..100. An alpha channel is passed over. */
export const labOf = (picture: Raster<Uint8Array>): Raster<Float32Array> =>
  raster(picture.width, picture.height, 3, labOfBytes(picture.data, picture.channels));
