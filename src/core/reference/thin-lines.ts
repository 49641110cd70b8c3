import type { Raster } from '../raster/raster.js';

/** A short thin line: a tick, a stroke of a numeral. In the px of the picture it was found in. */
export interface ThinLine {
  readonly x: number;
  readonly y: number;
  /** Unit vector along the line. */
  readonly dirX: number;
  readonly dirY: number;
  readonly lengthPx: number;
  readonly widthPx: number;
}

/** Dark lines on light ground, and light lines on dark. */
export interface ThinLines {
  readonly dark: ThinLine[];
  readonly light: ThinLine[];
}

/**
 * Thin lines by ridge pixels (darker, or lighter, than the ground at a short reach on both sides, in one of four
 * directions) joined into components. A component holds at most two neighbouring directions, so that a tick does not
 * merge with the ruler's edge it stands on, nor the lines of a grid with one another.
 *
 * `reach`: from a line's middle to the ground on either side, whole px. The contrast asked for follows the picture's own noise.
 */
export function findThinLines(luma: Raster<Uint8Array>, reach = 2): ThinLines {
  return linesFromRidges(ridgeDirections(luma, reach, contrastAboveNoise(luma)), luma.width);
}

/** Fine stripes all over look like noise; no photo worth reading has so much of it that more is called for. */
const MOST_CONTRAST = 16;

/**
 * Contrast that noise alone rarely reaches on both sides of a pixel: three standard deviations. Noise is judged by the least of
 * four second differences in different directions, since along a stripe there is nothing but noise however fine the stripes
 * are. Of four independent normal values the least is below 0.2594 sigma in six of ten cases.
 */
function contrastAboveNoise({ width, height, data }: Raster<Uint8Array>): number {
  const histogram = new Uint32Array(512);
  let count = 0;
  const strides = [2, 2 * width + 2, 2 * width, 2 * width - 2];
  // Some 90 whole rows: places strewn over the picture would each be a new page of memory.
  const rowStep = Math.max(1, Math.floor(height / 90));
  for (let y = 2 + (rowStep >> 1); y < height - 2; y += rowStep) {
    for (let i = y * width + 2; i < (y + 1) * width - 2; i += 3) {
      let least = 511;
      for (let s = 0; s < 4; s++) {
        const d = Math.abs(2 * data[i] - data[i - strides[s]] - data[i + strides[s]]);
        if (d < least) least = d;
      }
      histogram[least]++;
      count++;
    }
  }
  let bin = 0;
  let below = histogram[0];
  while (below < 0.6 * count) below += histogram[++bin];
  // Within the bin, by its share: whole numbers are coarse here. Bin b holds sizes b - 0.5 to b + 0.5.
  const part = 1 - (below - 0.6 * count) / Math.max(1, histogram[bin]);
  const size = bin === 0 ? 0.5 * part : bin - 0.5 + part;
  return Math.min(MOST_CONTRAST, Math.max(5, Math.round((3 * size) / (0.2594 * Math.sqrt(6)))));
}

/** Added to the direction of a light line. */
const LIGHT = 4;

/**
 * 0 none; 1..4 dark, 5..8 light by the direction across the line: x, falling diagonal, y, rising diagonal. Of several, the
 * one with the most contrast.
 */
function ridgeDirections(
  { width, height, data }: Raster<Uint8Array>,
  reach: number,
  threshold: number,
): Uint8Array {
  const ridges = new Uint8Array(width * height);
  const diagonal = Math.max(1, Math.round(reach * Math.SQRT1_2));
  const s0 = reach;
  const s1 = diagonal * (width + 1);
  const s2 = reach * width;
  const s3 = diagonal * (width - 1);
  for (let y = reach; y < height - reach; y++) {
    markRidges(data, y * width + reach, (y + 1) * width - reach, s0, s1, s2, s3, threshold, ridges);
  }
  return ridges;
}

/** Pixels from..to (half open) of one row; s0..s3: steps to the neighbour in each direction. A small loop is compiled early. */
function markRidges(
  data: Uint8Array,
  from: number,
  to: number,
  s0: number,
  s1: number,
  s2: number,
  s3: number,
  threshold: number,
  ridges: Uint8Array,
): void {
  for (let i = from; i < to; i++) {
    const c = data[i];
    const above = c + threshold;
    const below = c - threshold;
    let most = threshold;
    // Most pixels fail at the first neighbour, so the second is fetched only when it matters.
    let a = data[i - s0];
    if (a > above) {
      const b = data[i + s0];
      if (b > above) {
        most = (a < b ? a : b) - c;
        ridges[i] = 1;
      }
    } else if (a < below) {
      const b = data[i + s0];
      if (b < below) {
        most = c - (a > b ? a : b);
        ridges[i] = 1 + LIGHT;
      }
    }
    a = data[i - s1];
    if (a > above) {
      const b = data[i + s1];
      if (b - c > most && a - c > most) {
        most = (a < b ? a : b) - c;
        ridges[i] = 2;
      }
    } else if (a < below) {
      const b = data[i + s1];
      if (c - b > most && c - a > most) {
        most = c - (a > b ? a : b);
        ridges[i] = 2 + LIGHT;
      }
    }
    a = data[i - s2];
    if (a > above) {
      const b = data[i + s2];
      if (b - c > most && a - c > most) {
        most = (a < b ? a : b) - c;
        ridges[i] = 3;
      }
    } else if (a < below) {
      const b = data[i + s2];
      if (c - b > most && c - a > most) {
        most = c - (a > b ? a : b);
        ridges[i] = 3 + LIGHT;
      }
    }
    a = data[i - s3];
    if (a > above) {
      if (a - c > most && data[i + s3] - c > most) ridges[i] = 4;
    } else if (a < below) {
      if (c - a > most && c - data[i + s3] > most) ridges[i] = 4 + LIGHT;
    }
  }
}

/** Longer lines than this are of no use to anyone here, px. */
const LONGEST = 6000;

/** Components of ridge pixels as lines. Empties `ridges`. */
function linesFromRidges(ridges: Uint8Array, width: number): ThinLines {
  const lines: ThinLines = { dark: [], light: [] };
  const stack = new Int32Array(1 << 16);
  const sums = new Float64Array(6);
  const tooMany = LONGEST * 8;
  // Four pixels at a time: most are no ridge.
  const fours = new Uint32Array(ridges.buffer, 0, ridges.length >> 2);
  const end = ridges.length - width;
  for (let start = width; start < end; start++) {
    if (ridges[start] === 0) {
      if ((start & 3) === 3) while (fours[(start + 1) >> 2] === 0 && start + 4 < end) start += 4;
      continue;
    }
    const first = ridges[start];
    gatherRidge(ridges, width, start, stack, sums);
    const n = sums[0];
    if (n < 6 || n > tooMany) continue;
    const x0 = start % width;
    const y0 = (start - x0) / width;
    const mx = sums[1] / n;
    const my = sums[2] / n;
    // + 1/12: a pixel has width of its own.
    const cxx = sums[3] / n - mx * mx + 1 / 12;
    const cyy = sums[5] / n - my * my + 1 / 12;
    const cxy = sums[4] / n - mx * my;
    const half = (cxx + cyy) / 2;
    const root = Math.hypot((cxx - cyy) / 2, cxy);
    const lengthPx = Math.sqrt(12 * (half + root));
    const widthPx = Math.sqrt(12 * Math.max(1e-6, half - root));
    if (lengthPx < 5 || lengthPx > LONGEST || lengthPx < 2.2 * widthPx) continue;
    const angle = 0.5 * Math.atan2(2 * cxy, cxx - cyy);
    lines[first > LIGHT ? 'light' : 'dark'].push({
      x: x0 + mx + 0.5,
      y: y0 + my + 0.5,
      dirX: Math.cos(angle),
      dirY: Math.sin(angle),
      lengthPx,
      widthPx,
    });
  }
  return lines;
}

/**
 * Takes the component of ridge pixels that `start` belongs to out of `ridges`: how many, and the sums of x, y, xx, xy, yy from
 * `start` on.
 */
function gatherRidge(
  ridges: Uint8Array,
  width: number,
  start: number,
  stack: Int32Array,
  sums: Float64Array,
): void {
  let top = 0;
  stack[top++] = start;
  const first = ridges[start];
  let second = 0;
  ridges[start] = 0;
  let n = 0;
  let sx = 0;
  let sy = 0;
  let sxx = 0;
  let sxy = 0;
  let syy = 0;
  const x0 = start % width;
  const y0 = (start - x0) / width;
  while (top > 0) {
    const i = stack[--top];
    const x = (i % width) - x0;
    const y = (i - (i % width)) / width - y0;
    n++;
    sx += x;
    sy += y;
    sxx += x * x;
    sxy += x * y;
    syy += y * y;
    for (let dy = -width; dy <= width; dy += width) {
      for (let dx = -1; dx <= 1; dx++) {
        const j = i + dy + dx;
        const other = ridges[j];
        if (other === 0) continue;
        if (other !== first && other !== second) {
          if (second !== 0 || other > LIGHT !== first > LIGHT || Math.abs(other - first) === 2) continue;
          second = other;
        }
        if (top >= stack.length) continue;
        stack[top++] = j;
        ridges[j] = 0;
      }
    }
  }
  sums[0] = n;
  sums[1] = sx;
  sums[2] = sy;
  sums[3] = sxx;
  sums[4] = sxy;
  sums[5] = syy;
}
