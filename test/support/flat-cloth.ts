import type { Photo } from '../../src/core/raster/photo.js';
import { raster } from '../../src/core/raster/raster.js';
import { encodedLevels, type LinearRgb, linearFromHex } from './photo-painter/linear-colour.js';
import { seededRandom } from './photo-painter/seeded-random.js';

export interface FlatBand {
  /** '#rrggbb' */
  readonly colour: string;
  readonly widthMm: number;
}

/** What is printed over the bands at a place, '#rrggbb'; null where they show. */
export type FlatPrint = (uMm: number, vMm: number) => string | null;

/** Cloth lying flat under a camera straight above it, at a known density. */
export interface FlatCloth {
  readonly bands: readonly FlatBand[];
  /** Woven across: bands of the second direction from v = 0. Where two cross, the cloth shows half of each, in linear light. */
  readonly crossing?: readonly FlatBand[];
  readonly print?: FlatPrint;
  /** Direction of the stripes, degrees counter-clockwise as seen. */
  readonly turnDeg: number;
  readonly seed: number;
  readonly widthMm?: number;
  readonly heightMm?: number;
  readonly noiseLevels?: number;
}

export const FLAT_PX_PER_MM = 4;

/** Samples of a px, px from its middle: a lens's blur. */
const SAMPLES = [
  [-0.7, -0.3],
  [0.3, -0.7],
  [0.7, 0.3],
  [-0.3, 0.7],
] as const;

/** A scan of the cloth, its middle at u = v = 0. */
export function flatCloth({
  bands,
  crossing,
  print,
  turnDeg,
  seed,
  widthMm = 220,
  heightMm = 180,
  noiseLevels = 2,
}: FlatCloth): Photo {
  const random = seededRandom(seed);
  const width = Math.round(widthMm * FLAT_PX_PER_MM);
  const height = Math.round(heightMm * FLAT_PX_PER_MM);
  const across = bandAt(bands);
  const along = crossing ? bandAt(crossing) : null;
  const inks = new Map<string, LinearRgb>();
  const inkOf = (hex: string): LinearRgb => {
    const held = inks.get(hex) ?? linearFromHex(hex);
    inks.set(hex, held);
    return held;
  };
  const cos = Math.cos((turnDeg * Math.PI) / 180);
  const sin = Math.sin((turnDeg * Math.PI) / 180);
  const data = new Uint8Array(3 * width * height);
  const sum = new Float64Array(3);
  for (let y = 0; y < height; y++) {
    for (let x = 0; x < width; x++) {
      sum.fill(0);
      for (const [offX, offY] of SAMPLES) {
        const right = (x + 0.5 + offX - width / 2) / FLAT_PX_PER_MM;
        const up = -(y + 0.5 + offY - height / 2) / FLAT_PX_PER_MM;
        // v runs along the stripes, u is v turned clockwise.
        const v = right * cos + up * sin;
        const u = right * sin - up * cos;
        const ink = print?.(u, v) ?? null;
        const own = ink === null ? across(u) : inkOf(ink);
        const other = ink === null && along ? along(v) : own;
        for (let c = 0; c < 3; c++) sum[c] += (own[c] + other[c]) / 2;
      }
      for (let c = 0; c < 3; c++) {
        const level = encodedLevels[Math.round((16384 * sum[c]) / SAMPLES.length)];
        const noisy = level + noiseLevels * random.gaussian();
        data[3 * (y * width + x) + c] = Math.min(255, Math.max(0, Math.round(noisy)));
      }
    }
  }
  const picture = raster(width, height, 3, data);
  return { picture, photoPerPicture: 1, widthPx: width, heightPx: height, focal35Mm: 26 };
}

function bandAt(bands: readonly FlatBand[]): (mm: number) => LinearRgb {
  const repeat = bands.reduce((sum, band) => sum + band.widthMm, 0);
  const colours = bands.map((band) => linearFromHex(band.colour));
  const ends = bands.map((_, k) => bands.slice(0, k + 1).reduce((sum, band) => sum + band.widthMm, 0));
  return (mm) => {
    const at = mm - repeat * Math.floor(mm / repeat);
    const k = ends.findIndex((end) => at < end);
    return colours[k < 0 ? colours.length - 1 : k];
  };
}
