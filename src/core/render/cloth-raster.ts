import { byteTable, LINEAR_STEPS } from '../colour/byte-table.js';
import { linearFromByte } from '../colour/srgb.js';
import type { HalfOnCloth } from '../model/half-on-cloth.js';
import { type Raster, raster } from '../raster/raster.js';
import type { HalfWindow } from './stripe-raster.js';

/** The photographed cloth as a texture: u to the right, v upwards. */
export interface ClothTexture {
  /** RGBA, encoded sRGB; alpha 0 where nothing was photographed, under 255 where something covered the cloth. */
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
  /** Step along that carries the cloth onto itself; null for pure stripes, which are reflected instead. */
  readonly alongMm: number | null;
}

/**
 * Paints halves with the cloth's own pixels, in linear light. Where a half runs past the part in use, the
 * cloth is carried on by whole steps. The texture is halved until one of its pixels is between 0.7 and 1.4 of
 * the picture's, so that a single bilinear sample neither beats with the weave nor blurs it.
 */
export function clothPainter(
  texture: ClothTexture,
  continuation: ClothContinuation,
): (half: HalfOnCloth, window: HalfWindow) => Raster<Uint8Array> {
  const levels = [linearLevel(texture)];
  const levelFor = (ratio: number): LinearLevel => {
    const wanted = Math.max(0, Math.ceil(Math.log2(ratio / Math.SQRT2)));
    let last = levels[levels.length - 1];
    while (levels.length <= wanted && Math.min(last.width, last.height) > 8) {
      last = halved(last);
      levels.push(last);
    }
    return levels[Math.min(wanted, levels.length - 1)];
  };
  return (half, window) =>
    paintHalf(levelFor(texture.pxPerMm / window.pxPerMm), texture, continuation, half, window);
}

/** A texture in linear light, 3 channels. */
interface LinearLevel {
  readonly width: number;
  readonly height: number;
  readonly pxPerMm: number;
  readonly data: Float32Array;
}

function linearLevel({ picture, pxPerMm }: ClothTexture): LinearLevel {
  const { width, height, data } = picture;
  const linear = new Float32Array(3 * width * height);
  for (let i = 0, k = 0; k < linear.length; i += 4, k += 3) {
    for (let c = 0; c < 3; c++) linear[k + c] = linearFromByte[data[i + c]];
  }
  return { width, height, pxPerMm, data: linear };
}

/** 2 x 2 means of light, where means of encoded values would move edges towards the lighter side. */
function halved(level: LinearLevel): LinearLevel {
  const width = level.width >> 1;
  const height = level.height >> 1;
  const stride = 3 * level.width;
  const data = new Float32Array(3 * width * height);
  for (let y = 0, k = 0; y < height; y++) {
    for (let x = 0, i = 2 * y * stride; x < width; x++, i += 6) {
      for (let c = 0; c < 3; c++, k++) {
        const j = i + c;
        data[k] =
          (level.data[j] + level.data[j + 3] + level.data[j + stride] + level.data[j + stride + 3]) / 4;
      }
    }
  }
  return { width, height, pxPerMm: level.pxPerMm / 2, data };
}

function paintHalf(
  level: LinearLevel,
  { leftUMm, topVMm }: ClothTexture,
  use: ClothContinuation,
  half: HalfOnCloth,
  { firstColumn, columns, rows, pxPerMm }: HalfWindow,
): Raster<Uint8Array> {
  const { width, height, data, pxPerMm: scale } = level;
  const out = new Uint8Array(4 * columns * rows);
  const bytes = byteTable();
  const uStep = half.uPerX / pxPerMm;
  const vStep = half.vPerX / pxPerMm;
  const stride = 3 * width;
  for (let y = 0, i = 0; y < rows; y++) {
    const gy = (y + 0.5) / pxPerMm;
    const gx = (firstColumn + 0.5) / pxPerMm;
    let u = half.uMm + half.uPerX * gx + half.uPerY * gy;
    let v = half.vMm + half.vPerX * gx + half.vPerY * gy;
    for (let x = 0; x < columns; x++, i += 4, u += uStep, v += vStep) {
      let cu = u;
      let cv = v;
      if (cu < use.fromUMm || cu >= use.toUMm) {
        const turns = Math.floor((cu - use.fromUMm) / use.acrossMm);
        cu -= turns * use.acrossMm;
        cv -= turns * use.dropMm;
      }
      if (cv < use.fromVMm || cv >= use.toVMm) cv = alongInUse(cv, use);
      const px = (cu - leftUMm) * scale - 0.5;
      const py = (topVMm - cv) * scale - 0.5;
      const fx = px > 0 ? (px < width - 1.001 ? px : width - 1.001) : 0;
      const fy = py > 0 ? (py < height - 1.001 ? py : height - 1.001) : 0;
      const ix = fx | 0;
      const iy = fy | 0;
      const ax = fx - ix;
      const ay = fy - iy;
      const k = iy * stride + 3 * ix;
      for (let c = 0; c < 3; c++) {
        const top = data[k + c] + (data[k + c + 3] - data[k + c]) * ax;
        const low = data[k + c + stride] + (data[k + c + stride + 3] - data[k + c + stride]) * ax;
        out[i + c] = bytes[((top + (low - top) * ay) * LINEAR_STEPS + 0.5) | 0];
      }
      out[i + 3] = 255;
    }
  }
  return raster(columns, rows, 4, out);
}

/** Brings v into use: by whole steps, or reflected where the cloth looks the same from either end. */
function alongInUse(v: number, { fromVMm, toVMm, alongMm }: ClothContinuation): number {
  const span = alongMm ?? 2 * (toVMm - fromVMm);
  const at = v - Math.floor((v - fromVMm) / span) * span;
  return at > toVMm ? 2 * toVMm - at : at;
}
