import { byteFromLinear, linearFromRgb8, rgb8FromHex } from '../colour/srgb.js';
import { boxMean, type PeriodicSteps } from '../math/periodic-steps.js';
import { type ClothPattern, stepsOfPattern } from '../model/cloth-pattern.js';
import type { HalfOnCloth } from '../model/half-on-cloth.js';
import { type Raster, raster } from '../raster/raster.js';
import type { SeamMatch } from '../seam/seam-match.js';

/** Size of a painted pair of halves. The seam lies between two pixel columns, its top between two rows. */
export interface PaneSize {
  readonly halfWidthPx: number;
  readonly heightPx: number;
  readonly pxPerMm: number;
}

/** Places of the finest table step within a pixel: under half an 8-bit level between black and white. */
const STEPS_PER_PX = 256;
const MOST_STEPS = 1 << 18;

/**
 * The two halves in the clean colours of the model: RGBA, encoded sRGB. Every pixel is the exact mean, in
 * linear light, of the stripes over its own square, so edges lie where they are to a small part of a pixel
 * and ticking finer than a pixel turns into its even mixture instead of a beat.
 */
export function paintStripes(match: SeamMatch, size: PaneSize): Raster<Uint8Array> {
  const { halfWidthPx, heightPx } = size;
  const width = 2 * halfWidthPx;
  const out = new Uint32Array(width * heightPx);
  const steps = linearSteps(match.pattern);
  paintHalf(match.pattern, steps, match.left, -halfWidthPx, size, out, 0, width);
  paintHalf(match.pattern, steps, match.right, 0, size, out, halfWidthPx, width);
  return raster(width, heightPx, 4, new Uint8Array(out.buffer));
}

const linearSteps = (pattern: ClothPattern): PeriodicSteps =>
  stepsOfPattern(pattern, (band) => linearFromRgb8(rgb8FromHex(band.srgb)));

function paintHalf(
  pattern: ClothPattern,
  steps: PeriodicSteps,
  half: HalfOnCloth,
  firstColumn: number,
  size: PaneSize,
  out: Uint32Array,
  outColumn: number,
  outWidth: number,
): void {
  const perX = half.uPerX / size.pxPerMm;
  const perY = half.uPerY / size.pxPerMm;
  const table = pixelTable(steps, Math.abs(perX), Math.abs(perY));
  const scale = table.length / steps.period;
  const origin = half.uMm - pattern.originUMm;
  for (let y = 0; y < size.heightPx; y++) {
    const row = y * outWidth + outColumn;
    const start = (origin + perX * (firstColumn + 0.5) + perY * (y + 0.5)) * scale;
    for (let x = 0; x < size.halfWidthPx; x++) {
      const place = start + x * perX * scale;
      out[row + x] = table[Math.floor(place - Math.floor(place / table.length) * table.length)];
    }
  }
}

/** Packed RGBA of a pixel by where its centre falls in the repeat; a and b: its reach across the stripes. */
function pixelTable(steps: PeriodicSteps, a: number, b: number): Uint32Array {
  const count = Math.min(
    MOST_STEPS,
    Math.max(256, Math.ceil((steps.period * STEPS_PER_PX) / Math.max(a, b))),
  );
  const bytes = new Uint8Array(4 * count);
  const mean = new Float64Array(3);
  for (let k = 0; k < count; k++) {
    boxMean(steps, ((k + 0.5) * steps.period) / count, a, b, mean);
    for (let c = 0; c < 3; c++) bytes[4 * k + c] = byteFromLinear(mean[c]);
    bytes[4 * k + 3] = 255;
  }
  return new Uint32Array(bytes.buffer);
}
