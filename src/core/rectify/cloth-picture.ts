import { invert3 } from '../math/matrix3.js';
import { type Raster, raster } from '../raster/raster.js';
import { type CameraPlane, clothFromUndistorted, clothMap } from './camera-plane.js';

/** The photo resampled to the cloth frame: u to the right, v upwards. RGBA; alpha 0 outside the photo. */
export interface ClothSheet {
  readonly picture: Raster<Uint8Array>;
  readonly pxPerMm: number;
  readonly leftUMm: number;
  readonly topVMm: number;
  /** 1 where cloth was seen: inside the photo and not under the ruler. */
  readonly seen: Uint8Array;
}

/**
 * Resamples `source` (picture px / sourceShrink) to the cloth's plane at `pxPerMm`, over everything the photo shows.
 * `hidden`: 1 = not cloth, same size as source. `bowPerMm` straightens the stripes as the measurement does.
 */
export function clothSheet(
  source: Raster<Uint8Array>,
  sourceShrink: number,
  hidden: Uint8Array,
  camera: CameraPlane,
  bowPerMm: number,
  pxPerMm: number,
): ClothSheet {
  const { width, height, channels, data } = source;
  const [leftUMm, topVMm, rightUMm, lowVMm] = extentOf(camera, bowPerMm);
  const columns = Math.max(1, Math.round((rightUMm - leftUMm) * pxPerMm));
  const rows = Math.max(1, Math.round((topVMm - lowVMm) * pxPerMm));
  const out = new Uint8Array(columns * rows * 4);
  const seen = new Uint8Array(columns * rows);
  const undistortedFromCloth = invert3(clothFromUndistorted(camera));
  const [a, b, c, d, e, f, g, h, i] = undistortedFromCloth;
  const cx = camera.widthPx / 2;
  const cy = camera.heightPx / 2;
  const k1 = camera.k1 / (cx * cx + cy * cy);
  const rowStride = width * channels;
  for (let r = 0; r < rows; r++) {
    const v = topVMm - (r + 0.5) / pxPerMm;
    const shift = bowPerMm * v * v;
    for (let q = 0; q < columns; q++) {
      const u = leftUMm + (q + 0.5) / pxPerMm + shift;
      const w = g * u + h * v + i;
      const dx = (a * u + b * v + c) / w - cx;
      const dy = (d * u + e * v + f) / w - cy;
      const lens = 1 + k1 * (dx * dx + dy * dy);
      const fx = (cx + dx * lens) / sourceShrink - 0.5;
      const fy = (cy + dy * lens) / sourceShrink - 0.5;
      if (!(fx >= 0 && fy >= 0 && fx < width - 1 && fy < height - 1)) continue;
      const ix = fx | 0;
      const iy = fy | 0;
      // Weights in 1/256 along either axis: whole numbers take half the time of fractions.
      const ax = ((fx - ix) * 256) | 0;
      const ay = ((fy - iy) * 256) | 0;
      const j = iy * rowStride + ix * channels;
      const k = j + rowStride;
      const w11 = ax * ay;
      const w10 = (ax << 8) - w11;
      const w01 = (ay << 8) - w11;
      const w00 = 65536 - w10 - w01 - w11;
      const o = r * columns + q;
      const red = w00 * data[j] + w10 * data[j + channels] + w01 * data[k] + w11 * data[k + channels];
      const green =
        w00 * data[j + 1] + w10 * data[j + channels + 1] + w01 * data[k + 1] + w11 * data[k + channels + 1];
      const blue =
        w00 * data[j + 2] + w10 * data[j + channels + 2] + w01 * data[k + 2] + w11 * data[k + channels + 2];
      out[4 * o] = (red + 32768) >> 16;
      out[4 * o + 1] = (green + 32768) >> 16;
      out[4 * o + 2] = (blue + 32768) >> 16;
      out[4 * o + 3] = 255;
      if (!hidden[iy * width + ix]) seen[o] = 1;
    }
  }
  return { picture: raster(columns, rows, 4, out), pxPerMm, leftUMm, topVMm, seen };
}

/** Cloth area the photo shows, mm: [left u, top v, right u, low v]. */
export function extentOf(camera: CameraPlane, bowPerMm: number): [number, number, number, number] {
  const { clothFromPicture } = clothMap(camera);
  let left = Infinity;
  let right = -Infinity;
  let top = -Infinity;
  let low = Infinity;
  const steps = 8;
  for (let s = 0; s <= steps; s++) {
    const x = (camera.widthPx * s) / steps;
    const y = (camera.heightPx * s) / steps;
    for (const [px, py] of [
      [x, 0],
      [x, camera.heightPx],
      [0, y],
      [camera.widthPx, y],
    ]) {
      const [u, v] = clothFromPicture(px, py);
      const straightU = u - bowPerMm * v * v;
      left = Math.min(left, straightU);
      right = Math.max(right, straightU);
      top = Math.max(top, v);
      low = Math.min(low, v);
    }
  }
  return [left, top, right, low];
}
