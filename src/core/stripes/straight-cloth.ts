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

/** First reading of the stripes on the straightened picture: enough to go back for sub-pixel edges. */
export interface RoughReading {
  /** Palette: CIELAB (D65) of the evened cloth, and its 8-bit sRGB. */
  readonly palette: readonly {
    readonly lab: readonly [number, number, number];
    readonly srgb: readonly [number, number, number];
  }[];
  /** Boundaries between bands, in columns of the straight picture (0 = left outer edge), ascending. */
  readonly edgeColumns: readonly number[];
  /** Palette index of each segment: length edgeColumns.length + 1 (the first and last are cut by the frame). */
  readonly segmentColours: readonly number[];
  /** Number of bands in one repeat, or null when no repeat is in view. */
  readonly bandsPerRepeat: number | null;
  /** In columns; null with bandsPerRepeat. */
  readonly repeatColumns: number | null;
  /** Runners-up, best first, confidence 0..1. */
  readonly alternatives: readonly { readonly repeatColumns: number; readonly confidence: number }[];
  readonly confidence: number;
  /** Smooth light over the straight picture: linear-light gain at coarse nodes, for rendering and shares. */
  readonly layout: 'stripe' | 'check';
}

/** One edge refined to sub-pixel, window by window along the stripe. Cloth frame, mm. */
export interface EdgeTrace {
  /** Windows in a common order for all edges: window w lies at windowsV[w]. NaN where the edge was not seen. */
  readonly uMm: Float64Array;
  /** Standard deviation of each uMm from the fit (noise only). */
  readonly sdMm: Float64Array;
}
