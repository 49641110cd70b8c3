import { addLine, type LineSums } from '../raster/add-line.js';
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
 * source px); `hidden` marks source pixels that are not cloth (1 = hidden). A row is the mean of `mostTaps` lines at most.
 */
export function straighten(
  source: Raster<Uint8Array>,
  sourceShrink: number,
  hidden: Uint8Array,
  frame: StripeFrame,
  pxPerMm: number,
  pxPerColumn: number,
  pxPerRow: number,
  mostTaps = 4,
): Straightened {
  const { width, height } = source;
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
  const taps = Math.max(1, Math.min(mostTaps, Math.round(pxPerRow / (2 * sourceShrink))));
  const line = {
    sums: new Int32Array(columns * 3),
    inside: new Uint8Array(columns),
    seen: new Uint8Array(columns),
  };
  for (let r = 0; r < rows; r++) {
    line.sums.fill(0);
    line.seen.fill(0);
    for (let t = 0; t < taps; t++) {
      const v = vFromPx - (r + (t + 0.5) / taps) * pxPerRow;
      // At one v the map is linear in u.
      const [x0, y0] = pictureFromStraight(frame, uFromPx + 0.5 * pxPerColumn, v);
      const [x1, y1] = pictureFromStraight(frame, uFromPx + 1.5 * pxPerColumn, v);
      const dx = (x1 - x0) / sourceShrink;
      const dy = (y1 - y0) / sourceShrink;
      const x = x0 / sourceShrink - 0.5;
      const y = y0 / sourceShrink - 0.5;
      addLine(source, hidden, x, y, dx, dy, 0, columns, line);
    }
    takeRow(line, taps, r * columns, picture, cloth);
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

/** Means of those places of a row that every tap saw. */
function takeRow(
  { sums, seen }: LineSums,
  taps: number,
  start: number,
  picture: Uint8Array,
  cloth: Uint8Array,
): void {
  const scale = 1 / (65536 * taps);
  for (let c = 0, o = 3 * start; c < seen.length; c++, o += 3) {
    if (seen[c] < taps) continue;
    cloth[start + c] = 1;
    picture[o] = sums[3 * c] * scale + 0.5;
    picture[o + 1] = sums[3 * c + 1] * scale + 0.5;
    picture[o + 2] = sums[3 * c + 2] * scale + 0.5;
  }
}
