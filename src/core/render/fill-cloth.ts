import { erodeMask } from '../raster/erode-mask.js';
import type { Raster } from '../raster/raster.js';
import type { ClothTexture } from './cloth-raster.js';

/** Blur, shadow and rounding beside a ruler or the photo's border. */
const BORDER_MM = 1.5;
/** A stretch of a column much shorter than its longest is not worth reflecting. */
const SHORT_SHARE = 0.25;

/** Light grey, opaque; the same bytes in either order but for the last. */
const UNKNOWN = 0xffebebeb;

/** Steps that carry printed cloth onto itself, px of the picture: (across, drop) and (0, along). v grows upwards. */
export interface LatticePx {
  readonly across: number;
  readonly along: number;
  readonly drop: number;
}

/**
 * The cloth with everything that is not cloth (alpha under 255: outside the photo, or covered) filled from the
 * rest. Pure stripes look the same from either end, so each column is reflected along itself, which leaves no
 * step. Printed cloth (a lattice) is copied from whole repeats away. What cannot be filled turns light grey.
 */
export function fillCloth(texture: ClothTexture, lattice: LatticePx | null): ClothTexture {
  const { picture, pxPerMm } = texture;
  const { width, height } = picture;
  const clear = new Uint8Array(width * height);
  for (let i = 0; i < clear.length; i++) clear[i] = picture.data[4 * i + 3] === 255 ? 1 : 0;
  const usable = erodeMask(clear, width, height, Math.round(BORDER_MM * pxPerMm));
  const source =
    lattice === null
      ? reflectedRows(usable, clear, width, height)
      : shiftedPlaces(usable, clear, width, height, lattice);
  const pixels = new Uint32Array(picture.data.slice().buffer);
  const out = new Uint32Array(pixels.length);
  for (let i = 0; i < out.length; i++) out[i] = source[i] < 0 ? UNKNOWN : pixels[source[i]];
  const filled: Raster<Uint8Array> = { ...picture, data: new Uint8Array(out.buffer) };
  return { ...texture, picture: filled };
}

/** For each pixel the pixel to take, in its own column; -1 in a column without cloth. Borders only if there is no more. */
function reflectedRows(usable: Uint8Array, clear: Uint8Array, width: number, height: number): Int32Array {
  const source = new Int32Array(usable.length).fill(-1);
  for (let x = 0; x < width; x++) {
    const clean = runsOf(usable, width, height, x);
    const runs = clean.length > 0 ? clean : runsOf(clear, width, height, x);
    for (let y = 0, k = 0; y < height && runs.length > 0; y++) {
      while (k + 1 < runs.length && y >= middle(runs[k], runs[k + 1])) k++;
      source[y * width + x] = folded(y, runs[k]) * width + x;
    }
  }
  return source;
}

type Run = readonly [from: number, to: number];

function runsOf(usable: Uint8Array, width: number, height: number, x: number): Run[] {
  const runs: Run[] = [];
  for (let y = 0, from = -1; y <= height; y++) {
    const on = y < height && usable[y * width + x] === 1;
    if (on && from < 0) from = y;
    if (!on && from >= 0) {
      runs.push([from, y]);
      from = -1;
    }
  }
  const longest = Math.max(0, ...runs.map(([from, to]) => to - from));
  return runs.filter(([from, to]) => to - from >= SHORT_SHARE * longest);
}

/** Half-way between the end of one run and the start of the next. */
const middle = (a: Run, b: Run): number => (a[1] + b[0]) / 2;

/** Reflects y at the run's ends until it lies inside. */
function folded(y: number, [from, to]: Run): number {
  const length = to - from;
  const phase = (((y - from) % (2 * length)) + 2 * length) % (2 * length);
  return from + (phase < length ? phase : 2 * length - 1 - phase);
}

/** For each pixel the nearest whole step away at which cloth was seen. */
function shiftedPlaces(
  usable: Uint8Array,
  clear: Uint8Array,
  width: number,
  height: number,
  lattice: LatticePx,
): Int32Array {
  const source = new Int32Array(usable.length).fill(-1);
  const steps: [number, number][] = [];
  const most = [Math.ceil(width / lattice.across), Math.ceil(height / lattice.along) + 1];
  for (let i = -most[0]; i <= most[0]; i++) {
    for (let j = -most[1]; j <= most[1]; j++) {
      steps.push([Math.round(i * lattice.across), -Math.round(i * lattice.drop + j * lattice.along)]);
    }
  }
  steps.sort((a, b) => Math.hypot(...a) - Math.hypot(...b));
  for (let y = 0; y < height; y++) {
    for (let x = 0; x < width; x++) {
      if (clear[y * width + x]) source[y * width + x] = y * width + x;
      for (const [dx, dy] of steps) {
        const [sx, sy] = [x + dx, y + dy];
        if (sx < 0 || sy < 0 || sx >= width || sy >= height || !usable[sy * width + sx]) continue;
        source[y * width + x] = sy * width + sx;
        break;
      }
    }
  }
  return source;
}
