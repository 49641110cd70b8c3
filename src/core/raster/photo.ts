import type { Raster } from './raster.js';

/** A photo as the core sees it: upright, in sRGB, perhaps shrunk to bound memory. */
export interface Photo {
  /** Encoded sRGB, 3 channels, EXIF orientation applied. */
  readonly picture: Raster<Uint8Array>;
  /** Photo px per picture px, >= 1: larger than 1 only when a very large photo was shrunk at intake. */
  readonly photoPerPicture: number;
  /** Size of the photo itself after orientation. */
  readonly widthPx: number;
  readonly heightPx: number;
  /** 35 mm-equivalent focal length from EXIF, or null when unknown. */
  readonly focal35Mm: number | null;
  /** Name of the file and SHA-256 of its bytes (hex), where there is a file. */
  readonly file?: string;
  readonly sha256?: string;
}
