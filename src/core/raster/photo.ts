import type { Raster } from './raster.js';

/** A photo as the core sees it: upright, in sRGB, perhaps shrunk to bound memory. */
export interface Photo {
  /** Encoded sRGB, 3 channels, EXIF orientation applied. */
  readonly picture: Raster<Uint8Array>;
  /** Photo px per picture px, >= 1: larger than 1 only when a very large photo was shrunk at intake. */
  readonly photoPerPicture: number;
  /** Width of the photo itself after orientation, px. */
  readonly widthPx: number;
  /** Height of the photo itself after orientation, px. */
  readonly heightPx: number;
  /** 35 mm-equivalent focal length from EXIF, mm, or null when unknown. */
  readonly focal35Mm: number | null;
  /** Name of the file; absent where there is none. */
  readonly file?: string;
  /** SHA-256 of the file's bytes, 64 hexadecimal digits; absent where there is no file. */
  readonly sha256?: string;
}
