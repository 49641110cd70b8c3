import type { Raster } from '../raster/raster.js';

/**
 * The cloth resampled so that the stripes run straight down the columns. Column x lies at
 * u = uFromMm + (x + 0.5) * mmPerColumn across the stripes, row y at v = vFromMm - (y + 0.5) * mmPerRow along
 * them (v grows upwards). u may still be off by a smooth, slowly varying factor: the plane is refined later.
 */
export interface StraightCloth {
  /** Encoded sRGB, 3 channels. */
  readonly picture: Raster<Uint8Array>;
  /** One byte a pixel: 1 = cloth, 0 = ruler, card, or outside the photo. Same size as picture. */
  readonly cloth: Uint8Array;
  readonly uFromMm: number;
  readonly mmPerColumn: number;
  readonly vFromMm: number;
  readonly mmPerRow: number;
}
