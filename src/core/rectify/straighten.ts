import { type Raster, raster } from '../raster/raster.js';
import type { StraightCloth } from '../stripes/straight-cloth.js';
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
  const taps = Math.max(1, Math.min(4, Math.round(pxPerRow / (1.5 * sourceShrink))));
  for (let r = 0; r < rows; r++) {
    const v0 = vFromPx - (r + 0.5) * pxPerRow;
    for (let c = 0; c < columns; c++) {
      const u = uFromPx + (c + 0.5) * pxPerColumn;
      let red = 0;
      let green = 0;
      let blue = 0;
      let seen = 0;
      for (let t = 0; t < taps; t++) {
        const v = v0 + ((t + 0.5) / taps - 0.5) * pxPerRow;
        const p = pictureFromStraight(frame, u, v);
        const fx = p[0] / sourceShrink - 0.5;
        const fy = p[1] / sourceShrink - 0.5;
        if (fx < 0 || fy < 0 || fx >= width - 1 || fy >= height - 1) continue;
        const ix = fx | 0;
        const iy = fy | 0;
        if (hidden[iy * width + ix] || hidden[(iy + 1) * width + ix + 1]) continue;
        const ax = fx - ix;
        const ay = fy - iy;
        const i = (iy * width + ix) * channels;
        const k = i + width * channels;
        const w00 = (1 - ax) * (1 - ay);
        const w10 = ax * (1 - ay);
        const w01 = (1 - ax) * ay;
        const w11 = ax * ay;
        red += w00 * data[i] + w10 * data[i + channels] + w01 * data[k] + w11 * data[k + channels];
        green +=
          w00 * data[i + 1] + w10 * data[i + channels + 1] + w01 * data[k + 1] + w11 * data[k + channels + 1];
        blue +=
          w00 * data[i + 2] + w10 * data[i + channels + 2] + w01 * data[k + 2] + w11 * data[k + channels + 2];
        seen++;
      }
      if (seen < taps) continue;
      const o = r * columns + c;
      cloth[o] = 1;
      picture[3 * o] = red / seen + 0.5;
      picture[3 * o + 1] = green / seen + 0.5;
      picture[3 * o + 2] = blue / seen + 0.5;
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
