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

/** Checks the length once at the door, so that pixel loops need not. Throws RangeError when it is wrong. */
export function raster<D extends PixelData>(
  width: number,
  height: number,
  channels: number,
  data: D,
): Raster<D> {
  if (data.length !== width * height * channels) {
    throw new RangeError(
      `raster data: expected ${width} x ${height} x ${channels} = ${width * height * channels} values, received ${data.length}`,
    );
  }
  return { width, height, channels, data };
}
