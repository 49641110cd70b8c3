import type { Raster } from '../../raster/raster.js';
import type { CameraPlane } from '../../rectify/camera-plane.js';
import { type ClothSheet, clothSheet } from '../../rectify/cloth-picture.js';
import type { FlatSheet } from '../../trace/marks/flat-sheet.js';

/** Enough to see a pencil line, and no finer than the photo, px a mm. */
const FINEST = 3.2;

/** Everything the photo shows, from straight above. */
export const flatSheet = (picture: Raster<Uint8Array>, camera: CameraPlane, pxPerMm: number): ClothSheet =>
  clothSheet(
    picture,
    1,
    new Uint8Array(picture.width * picture.height),
    camera,
    0,
    Math.min(FINEST, 1.05 * pxPerMm),
  );

/** The part of it about some extent of the plane, mm, grey. */
export function partOfSheet(
  { picture, pxPerMm, leftUMm, topVMm }: ClothSheet,
  [left, low, right, top]: readonly [number, number, number, number],
): FlatSheet {
  const x0 = Math.max(0, Math.floor((left - leftUMm) * pxPerMm));
  const y0 = Math.max(0, Math.floor((topVMm - top) * pxPerMm));
  const x1 = Math.min(picture.width, Math.ceil((right - leftUMm) * pxPerMm));
  const y1 = Math.min(picture.height, Math.ceil((topVMm - low) * pxPerMm));
  const width = x1 - x0;
  const height = y1 - y0;
  const luma = new Float32Array(width * height);
  for (let y = 0, i = 0; y < height; y++) {
    let k = 4 * ((y0 + y) * picture.width + x0);
    for (let x = 0; x < width; x++, i++, k += 4) {
      luma[i] = 0.2126 * picture.data[k] + 0.7152 * picture.data[k + 1] + 0.0722 * picture.data[k + 2];
    }
  }
  return { width, height, pxPerMm, leftMm: leftUMm + x0 / pxPerMm, topMm: topVMm - y0 / pxPerMm, luma };
}
