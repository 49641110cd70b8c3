import { type Raster, raster } from '../raster/raster.js';
import type { StraightCloth } from './straight-cloth.js';
import { pictureFromStraight, type StripeFrame, straightFromPicture } from './stripe-frame.js';

/** A straight picture and how its pixels relate to straight px. */
export interface Straightened {
  readonly cloth: StraightCloth;
  readonly uFromPx: number;
  readonly vFromPx: number;
  readonly pxPerColumn: number;
  readonly pxPerRow: number;
}

/**
 * Resamples the picture along its stripes. `source` may be a shrunk copy of the picture (`sourceShrink` picture px per
 * source px); `hidden` marks source pixels that are not cloth (1 = hidden).
 */
export function straighten(
  source: Raster<Uint8Array>,
  sourceShrink: number,
  hidden: Uint8Array,
  frame: StripeFrame,
  pxPerMm: number,
  pxPerColumn: number,
  pxPerRow: number,
): Straightened {
  const { width, height, channels, data } = source;
  const corners = [
    [0, 0],
    [width, 0],
    [width, height],
    [0, height],
  ].map(([x, y]) => straightFromPicture(frame, x * sourceShrink, y * sourceShrink));
  const us = corners.map((c) => c[0]);
  const vs = corners.map((c) => c[1]);
  const uFromPx = Math.min(...us);
  const vFromPx = Math.max(...vs);
  const columns = Math.max(1, Math.ceil((Math.max(...us) - uFromPx) / pxPerColumn));
  const rows = Math.max(1, Math.ceil((vFromPx - Math.min(...vs)) / pxPerRow));
  const picture = new Uint8Array(columns * rows * 3);
  const cloth = new Uint8Array(columns * rows);
  // A tap reaches one source px either way: two px apart they take in all.
  const taps = Math.max(1, Math.min(4, Math.round(pxPerRow / (2 * sourceShrink))));
  const sums = new Int32Array(columns * 3);
  const counts = new Uint8Array(columns);
  const rowStride = width * channels;
  for (let r = 0; r < rows; r++) {
    sums.fill(0);
    counts.fill(0);
    for (let t = 0; t < taps; t++) {
      const v = vFromPx - (r + (t + 0.5) / taps) * pxPerRow;
      // At one v the map is linear in u.
      const [x0, y0] = pictureFromStraight(frame, uFromPx + 0.5 * pxPerColumn, v);
      const [x1, y1] = pictureFromStraight(frame, uFromPx + 1.5 * pxPerColumn, v);
      const dx = (x1 - x0) / sourceShrink;
      const dy = (y1 - y0) / sourceShrink;
      let fx = x0 / sourceShrink - 0.5;
      let fy = y0 / sourceShrink - 0.5;
      for (let c = 0; c < columns; c++, fx += dx, fy += dy) {
        if (!(fx >= 0 && fy >= 0 && fx < width - 1 && fy < height - 1)) continue;
        const ix = fx | 0;
        const iy = fy | 0;
        const at = iy * width + ix;
        if (hidden[at] || hidden[at + width + 1]) continue;
        // Weights in 1/256 along either axis: whole numbers take half the time of fractions.
        const ax = ((fx - ix) * 256) | 0;
        const ay = ((fy - iy) * 256) | 0;
        const i = at * channels;
        const k = i + rowStride;
        const w11 = ax * ay;
        const w10 = (ax << 8) - w11;
        const w01 = (ay << 8) - w11;
        const w00 = 65536 - w10 - w01 - w11;
        const s = 3 * c;
        sums[s] += w00 * data[i] + w10 * data[i + channels] + w01 * data[k] + w11 * data[k + channels];
        sums[s + 1] +=
          w00 * data[i + 1] + w10 * data[i + channels + 1] + w01 * data[k + 1] + w11 * data[k + channels + 1];
        sums[s + 2] +=
          w00 * data[i + 2] + w10 * data[i + channels + 2] + w01 * data[k + 2] + w11 * data[k + channels + 2];
        counts[c]++;
      }
    }
    for (let c = 0; c < columns; c++) {
      if (counts[c] < taps) continue;
      const o = r * columns + c;
      cloth[o] = 1;
      for (let q = 0; q < 3; q++) picture[3 * o + q] = sums[3 * c + q] / (65536 * taps) + 0.5;
    }
  }
  return {
    cloth: {
      picture: raster(columns, rows, 3, picture),
      cloth,
      uFromMm: uFromPx / pxPerMm,
      mmPerColumn: pxPerColumn / pxPerMm,
      vFromMm: vFromPx / pxPerMm,
      mmPerRow: pxPerRow / pxPerMm,
    },
    uFromPx,
    vFromPx,
    pxPerColumn,
    pxPerRow,
  };
}
