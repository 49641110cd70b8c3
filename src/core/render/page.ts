import { type Raster, raster } from '../raster/raster.js';
import type { HalfWindow } from './stripe-raster.js';

/** Where a pair of halves is painted on a page: whole pixels, the seam between two of their columns. */
export interface Pane {
  readonly leftPx: number;
  readonly topPx: number;
  readonly halfWidthPx: number;
  readonly heightPx: number;
  readonly pxPerMm: number;
}

/** Paints a window of one half: in model colours, or in the cloth's own pixels. RGBA. */
export type HalfPainter = (window: HalfWindow) => Raster<Uint8Array>;

/** A white page, RGBA. */
export const blankPage = (widthPx: number, heightPx: number): Raster<Uint8Array> =>
  raster(widthPx, heightPx, 4, new Uint8Array(widthPx * heightPx * 4).fill(255));

/** Copies a picture onto a page; both RGBA, the picture wholly inside. Changes the page. */
export function place(
  page: Raster<Uint8Array>,
  picture: Raster<Uint8Array>,
  leftPx: number,
  topPx: number,
): void {
  const stride = 4 * picture.width;
  for (let y = 0; y < picture.height; y++) {
    const row = picture.data.subarray(y * stride, (y + 1) * stride);
    page.data.set(row, 4 * ((topPx + y) * page.width + leftPx));
  }
}

/** Paints both halves into their pane. */
export function placeHalves(
  page: Raster<Uint8Array>,
  pane: Pane,
  left: HalfPainter,
  right: HalfPainter,
): void {
  const { halfWidthPx: columns, heightPx: rows, pxPerMm } = pane;
  place(page, left({ firstColumn: -columns, columns, rows, pxPerMm }), pane.leftPx, pane.topPx);
  place(page, right({ firstColumn: 0, columns, rows, pxPerMm }), pane.leftPx + columns, pane.topPx);
}
