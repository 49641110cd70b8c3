import { addLine, type LineSums } from '../raster/add-line.js';
import { type Raster, raster } from '../raster/raster.js';
import { type CameraPlane, clothMap } from './camera-plane.js';

/** The photo resampled to the cloth frame: u to the right, v upwards. RGBA; alpha 0 outside the photo. */
export interface ClothSheet {
  readonly picture: Raster<Uint8Array>;
  readonly pxPerMm: number;
  readonly leftUMm: number;
  readonly topVMm: number;
  /** 1 where cloth was seen: inside the photo and not under the ruler. */
  readonly seen: Uint8Array;
}

/** A part of the cloth to be drawn, mm of the cloth frame; a pixel is as high as it is wide. */
export interface ClothWindow {
  readonly leftUMm: number;
  readonly topVMm: number;
  readonly columns: number;
  readonly rows: number;
  readonly pxPerMm: number;
}

/** What the cloth is drawn from. */
export interface ClothSource {
  /** 3 channels or more, the photo at `1 / shrink` of its size. */
  readonly picture: Raster<Uint8Array>;
  readonly shrink: number;
  /** 1 = not cloth, same size as the picture. */
  readonly hidden: Uint8Array;
}

/** Columns and rows between places where the map itself is asked, straight lines between: the sag is some hundredths of a px. */
const NODE_PX = 24;

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
  const [leftUMm, topVMm, rightUMm, lowVMm] = extentOf(camera, bowPerMm);
  const columns = Math.max(1, Math.round((rightUMm - leftUMm) * pxPerMm));
  const rows = Math.max(1, Math.round((topVMm - lowVMm) * pxPerMm));
  const window = { leftUMm, topVMm, columns, rows, pxPerMm };
  return clothInWindow({ picture: source, shrink: sourceShrink, hidden }, camera, bowPerMm, window);
}

/** The same over one part of the cloth, whether the photo shows all of it or not. */
export function clothInWindow(
  source: ClothSource,
  camera: CameraPlane,
  bowPerMm: number,
  window: ClothWindow,
): ClothSheet {
  const { leftUMm, topVMm, columns, rows, pxPerMm } = window;
  const picture = raster(columns, rows, 4, new Uint8Array(columns * rows * 4));
  const seen = new Uint8Array(columns * rows);
  const { pictureFromCloth } = clothMap(camera);
  const line = {
    sums: new Int32Array(3 * columns),
    inside: new Uint8Array(columns),
    seen: new Uint8Array(columns),
  };
  const perRow = Math.ceil(columns / NODE_PX) + 1;
  const nodeRows = Math.ceil(rows / NODE_PX) + 1;
  const nodeX = new Float64Array(perRow * nodeRows);
  const nodeY = new Float64Array(perRow * nodeRows);
  for (let r = 0, n = 0; r < nodeRows; r++) {
    const v = topVMm - (r * NODE_PX + 0.5) / pxPerMm;
    const shift = bowPerMm * v * v;
    for (let q = 0; q < perRow; q++, n++) {
      const [x, y] = pictureFromCloth(leftUMm + (q * NODE_PX + 0.5) / pxPerMm + shift, v);
      nodeX[n] = x / source.shrink - 0.5;
      nodeY[n] = y / source.shrink - 0.5;
    }
  }
  for (let r = 0; r < rows; r++) {
    line.sums.fill(0);
    line.inside.fill(0);
    line.seen.fill(0);
    const above = Math.floor(r / NODE_PX) * perRow;
    const down = (r % NODE_PX) / NODE_PX;
    for (let q = 0; q + 1 < perRow; q++) {
      const a = above + q;
      const b = a + perRow;
      const x0 = nodeX[a] + down * (nodeX[b] - nodeX[a]);
      const y0 = nodeY[a] + down * (nodeY[b] - nodeY[a]);
      const dx = (nodeX[a + 1] + down * (nodeX[b + 1] - nodeX[a + 1]) - x0) / NODE_PX;
      const dy = (nodeY[a + 1] + down * (nodeY[b + 1] - nodeY[a + 1]) - y0) / NODE_PX;
      const from = q * NODE_PX;
      addLine(source.picture, source.hidden, x0, y0, dx, dy, from, Math.min(columns, from + NODE_PX), line);
    }
    takeRow(line, r * columns, picture.data, seen);
  }
  return { picture, pxPerMm, leftUMm, topVMm, seen };
}

function takeRow(line: LineSums, start: number, picture: Uint8Array, seen: Uint8Array): void {
  const { sums, inside } = line;
  for (let c = 0, o = 4 * start; c < inside.length; c++, o += 4) {
    if (inside[c] === 0) continue;
    picture[o] = (sums[3 * c] + 32768) >> 16;
    picture[o + 1] = (sums[3 * c + 1] + 32768) >> 16;
    picture[o + 2] = (sums[3 * c + 2] + 32768) >> 16;
    picture[o + 3] = 255;
    seen[start + c] = line.seen[c];
  }
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
