import { byteFromLinear, linearFromByte } from '../colour/srgb.js';
import type { HalfOnCloth } from '../model/half-on-cloth.js';
import { halve } from '../raster/halve.js';
import { type Raster, raster } from '../raster/raster.js';
import type { HalfWindow } from './stripe-raster.js';

/** The photographed cloth as a texture: u to the right, v upwards. */
export interface ClothTexture {
  /** RGBA, encoded sRGB; alpha 0 where nothing was photographed. */
  readonly picture: Raster<Uint8Array>;
  readonly pxPerMm: number;
  /** Cloth place of its top left corner. */
  readonly leftUMm: number;
  readonly topVMm: number;
}

/** How the cloth goes on beyond the photo. */
export interface ClothContinuation {
  /** Part of the cloth that is used, cloth u. */
  readonly fromUMm: number;
  readonly toUMm: number;
  /** Step across that carries the cloth onto itself: whole repeats, no longer than the part used. */
  readonly acrossMm: number;
  /** Shift along the stripes that goes with one such step (a drop); 0 for pure stripes. */
  readonly dropMm: number;
  /** Part of the cloth that is used, cloth v, from the lower end. */
  readonly fromVMm: number;
  readonly toVMm: number;
  /** Step along that carries the cloth onto itself; for pure stripes any length no longer than the part used. */
  readonly alongMm: number;
}

/**
 * Paints halves with the cloth's own pixels, in linear light. Where a half runs past the part in use, the
 * cloth is carried on by whole steps. Each pixel is the mean of samples no further apart than a pixel of a
 * copy halved until it is no finer than twice the picture.
 */
export function clothPainter(
  texture: ClothTexture,
  continuation: ClothContinuation,
): (half: HalfOnCloth, window: HalfWindow) => Raster<Uint8Array> {
  const levels = [texture.picture];
  const levelFor = (ratio: number): { picture: Raster<Uint8Array>; halvings: number } => {
    let halvings = 0;
    while (ratio / 2 ** halvings >= 2 && Math.min(levels[halvings].width, levels[halvings].height) > 8) {
      halvings++;
      if (levels.length === halvings) levels.push(halve(levels[halvings - 1]));
    }
    return { picture: levels[halvings], halvings };
  };
  return (half, { firstColumn, columns, rows, pxPerMm }) => {
    const { picture, halvings } = levelFor(texture.pxPerMm / pxPerMm);
    const scale = texture.pxPerMm / 2 ** halvings;
    const samples = Math.max(1, Math.ceil(scale / pxPerMm - 0.01));
    const out = new Uint8Array(4 * columns * rows);
    const sum = new Float64Array(4);
    for (let y = 0, i = 0; y < rows; y++) {
      for (let x = 0; x < columns; x++, i += 4) {
        sum.fill(0);
        for (let b = 0; b < samples; b++) {
          const gy = (y + (b + 0.5) / samples) / pxPerMm;
          for (let a = 0; a < samples; a++) {
            const gx = (firstColumn + x + (a + 0.5) / samples) / pxPerMm;
            const u = half.uMm + half.uPerX * gx + half.uPerY * gy;
            const v = half.vMm + half.vPerX * gx + half.vPerY * gy;
            addSample(picture, texture, continuation, scale, u, v, sum);
          }
        }
        const seen = sum[3];
        for (let c = 0; c < 3; c++) out[i + c] = seen > 0 ? byteFromLinear(sum[c] / seen) : 235;
        out[i + 3] = 255;
      }
    }
    return raster(columns, rows, 4, out);
  };
}

/** Bilinear sample weighted by what was photographed. */
function addSample(
  picture: Raster<Uint8Array>,
  texture: ClothTexture,
  c: ClothContinuation,
  scale: number,
  u: number,
  v: number,
  sum: Float64Array,
): void {
  const turns = Math.floor((u - c.fromUMm) / c.acrossMm);
  // Only step when the place itself is not in use: the part may be longer than one step.
  const inUse = u >= c.fromUMm && u < c.toUMm;
  const cu = inUse ? u : u - turns * c.acrossMm;
  let cv = inUse ? v : v - turns * c.dropMm;
  if (!(cv >= c.fromVMm && cv < c.toVMm)) cv -= Math.floor((cv - c.fromVMm) / c.alongMm) * c.alongMm;
  const { width, height, data } = picture;
  const px = (cu - texture.leftUMm) * scale - 0.5;
  const py = (texture.topVMm - cv) * scale - 0.5;
  const fx = px > 0 ? (px < width - 1.001 ? px : width - 1.001) : 0;
  const fy = py > 0 ? (py < height - 1.001 ? py : height - 1.001) : 0;
  const ix = fx | 0;
  const iy = fy | 0;
  const ax = fx - ix;
  const ay = fy - iy;
  for (let k = 0; k < 4; k++) {
    const i = 4 * ((iy + (k >> 1)) * width + ix + (k & 1));
    const weight = (k & 1 ? ax : 1 - ax) * (k >> 1 ? ay : 1 - ay) * data[i + 3];
    if (weight === 0) continue;
    sum[0] += weight * linearFromByte[data[i]];
    sum[1] += weight * linearFromByte[data[i + 1]];
    sum[2] += weight * linearFromByte[data[i + 2]];
    sum[3] += weight;
  }
}
