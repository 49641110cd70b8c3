import { labFromRgb8 } from '../../src/core/colour/lab.js';
import { byteFromLinear, linearFromRgb8, rgb8FromHex } from '../../src/core/colour/srgb.js';
import { raster } from '../../src/core/raster/raster.js';
import type { MotifInput } from '../../src/core/stripes/motif-input.js';

/** The workroom's ticking with a print: indigo, ivory, ochre; madder and walnut are the print's. */
export const INKS = ['#2a3a63', '#ebe2cb', '#bd8738', '#8c3a2c', '#4a6b4f'] as const;
export const MADDER = 3;
export const SAGE = 4;

/** One repeat from u = 0. */
export const BANDS = [
  { colour: 1, startMm: 0, widthMm: 22 },
  { colour: 0, startMm: 22, widthMm: 12 },
  { colour: 2, startMm: 34, widthMm: 6 },
  { colour: 0, startMm: 40, widthMm: 8 },
];
export const REPEAT_MM = 48;

/** Colour printed at a place, or null where the band shows. */
export type Print = (uMm: number, vMm: number) => number | null;

export interface PrintedSheet {
  readonly print: Print;
  readonly widthMm?: number;
  readonly heightMm?: number;
  readonly leftUMm?: number;
  readonly topVMm?: number;
  readonly pxPerMm?: number;
  /** False where nothing was photographed. */
  readonly seen?: (uMm: number, vMm: number) => boolean;
  readonly repeatMm?: number | null;
  readonly printColours?: readonly number[];
}

/** Stripes with a print, written straight into the cloth picture: four samples a pixel, mixed in linear light, no photo between. */
export function printedSheet({
  print,
  widthMm = 210,
  heightMm = 200,
  leftUMm = -70.3,
  topVMm = 97.7,
  pxPerMm = 1.6,
  seen = () => true,
  repeatMm = REPEAT_MM,
  printColours = [MADDER, SAGE],
}: PrintedSheet): MotifInput {
  const width = Math.round(widthMm * pxPerMm);
  const height = Math.round(heightMm * pxPerMm);
  const data = new Uint8Array(4 * width * height);
  const mask = new Uint8Array(width * height);
  const inks = INKS.map((hex) => linearFromRgb8(rgb8FromHex(hex)));
  const stretches = stretchesBetween(leftUMm, leftUMm + widthMm);
  const bandColour = (u: number): number =>
    BANDS[stretches.find((s) => u >= s.startMm && u < s.endMm)?.band ?? 0].colour;
  for (let x = 0; x < width; x++) {
    const us = [0.25, 0.75].map((f) => leftUMm + (x + f) / pxPerMm);
    const under = us.map(bandColour);
    for (let y = 0; y < height; y++) {
      const i = y * width + x;
      const light = [0, 0, 0];
      for (let s = 0; s < 4; s++) {
        const v = topVMm - (y + (s >> 1 ? 0.75 : 0.25)) / pxPerMm;
        const ink = inks[print(us[s & 1], v) ?? under[s & 1]];
        for (let c = 0; c < 3; c++) light[c] += ink[c] / 4;
      }
      for (let c = 0; c < 3; c++) data[4 * i + c] = byteFromLinear(light[c]);
      data[4 * i + 3] = 255;
      mask[i] = seen(us[0], topVMm - (y + 0.5) / pxPerMm) ? 1 : 0;
    }
  }
  return {
    sheet: { picture: raster(width, height, 4, data), pxPerMm, leftUMm, topVMm, seen: mask },
    repeatMm,
    colours: INKS.map((hex) => ({ lab: labFromRgb8(rgb8FromHex(hex)) })),
    bands: repeatMm === null ? stretches.map((s) => ({ ...BANDS[s.band], startMm: s.startMm })) : BANDS,
    stretches: repeatMm === null ? stretches.map((s, band) => ({ ...s, band })) : stretches,
    printColours,
    scaleRelativeSd: 0,
  };
}

function stretchesBetween(fromMm: number, toMm: number) {
  const stretches: { band: number; startMm: number; endMm: number }[] = [];
  for (let k = Math.floor(fromMm / REPEAT_MM); k * REPEAT_MM < toMm; k++) {
    BANDS.forEach(({ startMm, widthMm }, band) => {
      const start = startMm + k * REPEAT_MM;
      if (start < toMm && start + widthMm > fromMm) {
        stretches.push({ band, startMm: start, endMm: start + widthMm });
      }
    });
  }
  return stretches;
}

/** One drawing, (x, y) from its middle, mm. */
export type Drawing = (xMm: number, yMm: number) => number | null;

export interface Lattice {
  readonly alongMm: number;
  readonly drop: number;
  readonly atUMm: number;
  readonly atVMm: number;
  readonly acrossMm?: number;
}

/** A drawing at every place of a lattice (across, drop) and (0, along). `drawingAt`: which one, by repeat across and along. */
export function latticePrint(
  { alongMm, drop, atUMm, atVMm, acrossMm = REPEAT_MM }: Lattice,
  drawingAt: (across: number, along: number) => Drawing,
): Print {
  return (u, v) => {
    const across = Math.round((u - atUMm) / acrossMm);
    const v0 = v - atVMm - across * drop * alongMm;
    const along = Math.round(v0 / alongMm);
    return drawingAt(across, along)(u - atUMm - across * acrossMm, v0 - along * alongMm);
  };
}

/** A triangle, point up. */
export const arrow =
  (halfMm: number, ink = MADDER): Drawing =>
  (x, y) =>
    y > -halfMm && y < halfMm && Math.abs(x) < 0.45 * (halfMm - y) ? ink : null;

export const disc =
  (radiusMm: number, ink = MADDER): Drawing =>
  (x, y) =>
    x * x + y * y < radiusMm * radiusMm ? ink : null;

/** Two bars set off from each other, like a Z: a half turn keeps it, no mirror does. */
export const zed =
  (halfMm: number, ink = MADDER): Drawing =>
  (x, y) => {
    const upper = y > 0 && y < halfMm && x > -halfMm && x < 0.25 * halfMm;
    const lower = y <= 0 && y > -halfMm && x < halfMm && x > -0.25 * halfMm;
    return upper || lower ? ink : null;
  };
