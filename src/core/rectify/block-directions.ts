import type { Raster } from '../raster/raster.js';

/** Local stripe direction in one block of the picture. */
export interface BlockDirection {
  /** Middle of the block, px of the picture it was computed on. */
  readonly x: number;
  readonly y: number;
  /** Direction along the stripes, radians counter-clockwise as seen, in [0, pi). */
  readonly angle: number;
  /** Edge energy times squared coherence. */
  readonly weight: number;
}

/**
 * Directions from the colour structure tensor (Di Zenzo 1986, doi 10.1016/0734-189X(86)90223-9), block by block.
 * `hidden` marks pixels to leave out (the ruler): 1 = hidden, same size as the picture.
 */
export function blockDirections(
  { width, height, channels, data }: Raster<Uint8Array>,
  hidden: Uint8Array,
  blockPx = 24,
): BlockDirection[] {
  const out: BlockDirection[] = [];
  for (let y0 = 2; y0 + blockPx < height - 1; y0 += blockPx) {
    for (let x0 = 2; x0 + blockPx < width - 1; x0 += blockPx) {
      let xx = 0;
      let xy = 0;
      let yy = 0;
      let hiddenCount = 0;
      for (let y = y0; y < y0 + blockPx; y++) {
        for (let x = x0; x < x0 + blockPx; x++) {
          const p = y * width + x;
          if (hidden[p]) {
            hiddenCount++;
            continue;
          }
          const i = p * channels;
          const row = width * channels;
          for (let c = 0; c < 3; c++) {
            const k = i + c;
            // Scharr-like weights: even in all directions to a fraction of a degree.
            const nw = data[k - row - channels];
            const ne = data[k - row + channels];
            const sw = data[k + row - channels];
            const se = data[k + row + channels];
            const gx = 3 * (ne - nw + se - sw) + 10 * (data[k + channels] - data[k - channels]);
            const gy = 3 * (sw - nw + se - ne) + 10 * (data[k + row] - data[k - row]);
            xx += gx * gx;
            xy += gx * gy;
            yy += gy * gy;
          }
        }
      }
      if (hiddenCount > 0) continue;
      const energy = (xx + yy) / (blockPx * blockPx * 1024);
      const split = Math.hypot(xx - yy, 2 * xy);
      const coherence = split / Math.max(1e-9, xx + yy);
      if (energy < 1 || coherence < 0.3) continue;
      // Gradient direction in picture axes (y down); the stripe is square to it; as seen, y turns over.
      const gradient = 0.5 * Math.atan2(2 * xy, xx - yy);
      const angle = -(gradient + Math.PI / 2);
      out.push({
        x: x0 + blockPx / 2,
        y: y0 + blockPx / 2,
        angle: angle - Math.PI * Math.floor(angle / Math.PI),
        weight: Math.min(energy, 4000) * coherence * coherence,
      });
    }
  }
  return out;
}
