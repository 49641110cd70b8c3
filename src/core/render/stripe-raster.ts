import { byteFromLinear, linearFromByte, linearFromRgb8, rgb8FromHex } from '../colour/srgb.js';
import { boxMean, type PeriodicSteps } from '../math/periodic-steps.js';
import { type ClothPattern, stepsOfPattern } from '../model/cloth-pattern.js';
import type { HalfOnCloth } from '../model/half-on-cloth.js';
import { type Raster, raster } from '../raster/raster.js';

/** The part of a garment half that is painted: whole pixel columns and rows counted from the seam's top. */
export interface HalfWindow {
  /** First pixel column right of the seam; negative on the left half. */
  readonly firstColumn: number;
  readonly columns: number;
  readonly rows: number;
  readonly pxPerMm: number;
}

/** Places of the finest table step within a pixel: under half an 8-bit level between black and white. */
const STEPS_PER_PX = 256;
const MOST_STEPS = 1 << 18;

/**
 * Paints halves in the clean colours of the model: RGBA, encoded sRGB. Every pixel is the exact mean, in
 * linear light, of the stripes over its own square, so edges lie where they are to a small part of a pixel
 * and ticking finer than a pixel turns into its even mixture instead of a beat. Pixels depend on their place
 * in the repeat only, so one fine table serves every picture of one angle and size; it is kept for the next.
 */
export function stripePainter(
  pattern: ClothPattern,
): (half: HalfOnCloth, window: HalfWindow) => Raster<Uint8Array> {
  const steps = stepsOfPattern(pattern, (band) => linearFromRgb8(rgb8FromHex(band.srgb)));
  const tables = new Map<string, Uint32Array>();
  const tableFor = (a: number, b: number): Uint32Array => {
    const key = `${a.toPrecision(12)} ${b.toPrecision(12)}`;
    const known = tables.get(key);
    if (known !== undefined) return known;
    const table = pixelTable(steps, a, b);
    tables.set(key, table);
    return table;
  };
  return (half, { firstColumn, columns, rows, pxPerMm }) => {
    const perX = half.uPerX / pxPerMm;
    const perY = half.uPerY / pxPerMm;
    const table = tableFor(Math.abs(perX), Math.abs(perY));
    const count = table.length;
    const scale = count / steps.period;
    const origin = (half.uMm - pattern.originUMm + perX * (firstColumn + 0.5)) * scale;
    const out = new Uint32Array(columns * rows);
    for (let y = 0, i = 0; y < rows; y++) {
      let at = origin + perY * (y + 0.5) * scale;
      at -= Math.floor(at / count) * count;
      let step = perX * scale;
      step -= Math.floor(step / count) * count;
      for (let x = 0; x < columns; x++, i++) {
        out[i] = table[at | 0];
        at += step;
        if (at >= count) at -= count;
      }
    }
    return raster(columns, rows, 4, new Uint8Array(out.buffer));
  };
}

/**
 * Paints halves of a check in clean colours: cross stripes along v, half and half with the first direction's in linear
 * light, as woven yarns mix.
 */
export function checkPainter(
  pattern: ClothPattern,
  cross: ClothPattern,
): (half: HalfOnCloth, window: HalfWindow) => Raster<Uint8Array> {
  const across = stripePainter(pattern);
  const along = stripePainter(cross);
  return (half, window) => {
    const picture = across(half, window);
    const turned = { ...half, uMm: half.vMm, uPerX: half.vPerX, uPerY: half.vPerY };
    const other = along(turned, window).data;
    const { data } = picture;
    for (let i = 0; i < data.length; i++) {
      if (i % 4 !== 3) data[i] = HALF_AND_HALF[(linear16(data[i]) + linear16(other[i])) >> 4];
    }
    return picture;
  };
}

/** Linear light in 16 bits, and encoded bytes of sums of two of them. */
const LINEAR_16 = Uint16Array.from({ length: 256 }, (_, byte) => Math.round(65535 * linearFromByte[byte]));
const linear16 = (byte: number): number => LINEAR_16[byte];
const HALF_AND_HALF = Uint8Array.from({ length: 8192 }, (_, k) =>
  byteFromLinear(Math.min(1, (16 * k + 8) / 131070)),
);

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
