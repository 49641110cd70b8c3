import { checkAll, oneOf, plainly, wholeNumber } from '../base/expectation.js';
import { UsageError } from '../base/outcome.js';

/**
 * A picture as plain data, row by row, channels interleaved.
 *
 * Frame: x right, y down, the origin at the outer corner of the first pixel, so the centre of pixel
 * (i, j) lies at (i + 0.5, j + 0.5) and lengths scale without a half-pixel term.
 */
export interface Raster<D extends PixelData = PixelData> {
  readonly width: number;
  readonly height: number;
  /** 1 (luminance or mask), 3 (RGB or Lab) or 4 (RGBA). */
  readonly channels: number;
  /** Length width * height * channels. 8-bit data is encoded sRGB unless said otherwise. */
  readonly data: D;
}

export type PixelData = Uint8Array | Float32Array;

const SIDE = wholeNumber({ least: 0 });
const CHANNELS = oneOf([1, 3, 4]);
const VALUES = plainly(
  'a Uint8Array or a Float32Array',
  (value) => value instanceof Uint8Array || value instanceof Float32Array,
);

/** Checks sizes and length once at the door, so that pixel loops need not. Throws UsageError when they are wrong. */
export function raster<D extends PixelData>(
  width: number,
  height: number,
  channels: number,
  data: D,
): Raster<D> {
  checkAll({
    width: [width, SIDE],
    height: [height, SIDE],
    channels: [channels, CHANNELS],
    data: [data, VALUES],
  });
  if (data.length !== width * height * channels) {
    throw new UsageError(
      `expected ${width} x ${height} x ${channels} = ${width * height * channels} values, received ${data.length}`,
      'data',
    );
  }
  return { width, height, channels, data };
}
