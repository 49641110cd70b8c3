import type { Raster } from './raster.js';

/** What is known of places along a line, one entry a place. */
export interface LineSums {
  /** 3 values a place: encoded colour times 65536, added up. */
  readonly sums: Int32Array;
  /** Samples added that lie on the source. */
  readonly inside: Uint8Array;
  /** And that no mark hides. */
  readonly seen: Uint8Array;
}

/**
 * Adds bilinear samples of a colour picture, taken at even steps along a straight line, to places from..to (half open). Off the
 * source nothing is added. Every picture that is resampled row by row goes through here: the engine compiles
 * one small loop once, where a loop of its own in each place would run most of its life uncompiled.
 *
 * @param source 3 channels or more; the first three count
 * @param hidden 1 = hidden, same size as the source
 * @param x first sample, source px from the first pixel's centre; dx, dy: from one sample to the next
 */
export function addLine(
  { width, height, channels, data }: Raster<Uint8Array>,
  hidden: Uint8Array,
  x: number,
  y: number,
  dx: number,
  dy: number,
  from: number,
  to: number,
  { sums, inside, seen }: LineSums,
): void {
  const rowStride = width * channels;
  const lastX = width - 1;
  const lastY = height - 1;
  for (let p = from, fx = x, fy = y; p < to; p++, fx += dx, fy += dy) {
    if (!(fx >= 0 && fy >= 0 && fx < lastX && fy < lastY)) continue;
    const ix = fx | 0;
    const iy = fy | 0;
    const at = iy * width + ix;
    inside[p]++;
    if (hidden[at] === 0 && hidden[at + width + 1] === 0) seen[p]++;
    // Weights in 1/256 along either axis: whole numbers take half the time of fractions.
    const ax = ((fx - ix) * 256) | 0;
    const ay = ((fy - iy) * 256) | 0;
    const i = at * channels;
    const j = i + channels;
    const k = i + rowStride;
    const l = k + channels;
    const w11 = ax * ay;
    const w10 = (ax << 8) - w11;
    const w01 = (ay << 8) - w11;
    const w00 = 65536 - w10 - w01 - w11;
    const s = 3 * p;
    sums[s] += w00 * data[i] + w10 * data[j] + w01 * data[k] + w11 * data[l];
    sums[s + 1] += w00 * data[i + 1] + w10 * data[j + 1] + w01 * data[k + 1] + w11 * data[l + 1];
    sums[s + 2] += w00 * data[i + 2] + w10 * data[j + 2] + w01 * data[k + 2] + w11 * data[l + 2];
  }
}
