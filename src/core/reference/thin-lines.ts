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

/** Half-gap in px between a line's middle and the ground on either side. */
const REACH = 2;

/**
 * Thin lines by ridge pixels (darker, or lighter, than the ground at a short reach on both sides, in one of four
 * directions) joined into components. A component holds at most two neighbouring directions, so that a tick does not
 * merge with the ruler's edge it stands on, nor the lines of a grid with one another.
 *
 * The contrast asked for follows the picture's own noise.
 */
export function findThinLines(luma: Raster<Uint8Array>): ThinLines {
  const ridges = ridgeDirections(luma, REACH, contrastAboveNoise(luma));
  return {
    dark: linesFromRidges(ridges.dark, luma.width),
    light: linesFromRidges(ridges.light, luma.width),
  };
}

/**
 * Contrast that noise alone rarely reaches on both sides of a pixel: three standard deviations. Noise is judged by the least of
 * four second differences in different directions, since along a stripe there is nothing but noise however fine the stripes
 * are. Of four independent normal values the least is below 0.2594 sigma in six of ten cases.
 */
function contrastAboveNoise({ width, height, data }: Raster<Uint8Array>): number {
  const histogram = new Uint32Array(512);
  let count = 0;
  const step = Math.max(1, Math.floor((width * height) / 150_000)) | 1;
  const strides = [2, 2 * width + 2, 2 * width, 2 * width - 2];
  for (let i = 2 * width + 2; i < width * (height - 2) - 2; i += step) {
    let least = 511;
    for (const stride of strides) {
      const d = Math.abs(2 * data[i] - data[i - stride] - data[i + stride]);
      if (d < least) least = d;
    }
    histogram[least]++;
    count++;
  }
  let bin = 0;
  let below = histogram[0];
  while (below < 0.6 * count) below += histogram[++bin];
  // Within the bin, by its share: whole numbers are coarse here. Bin b holds sizes b - 0.5 to b + 0.5.
  const part = 1 - (below - 0.6 * count) / Math.max(1, histogram[bin]);
  const size = bin === 0 ? 0.5 * part : bin - 0.5 + part;
  return Math.max(5, Math.round((3 * size) / (0.2594 * Math.sqrt(6))));
}

/** 0 none; 1..4 the direction across the line: x, falling diagonal, y, rising diagonal. */
function ridgeDirections(
  { width, height, data }: Raster<Uint8Array>,
  reach: number,
  threshold: number,
): { dark: Uint8Array; light: Uint8Array } {
  const dark = new Uint8Array(width * height);
  const light = new Uint8Array(width * height);
  const diagonal = Math.max(1, Math.round(reach * Math.SQRT1_2));
  const s0 = reach;
  const s1 = diagonal * (width + 1);
  const s2 = reach * width;
  const s3 = diagonal * (width - 1);
  const tile = 16;
  for (let ty = reach; ty < height - reach; ty += tile) {
    for (let tx = reach; tx < width - reach; tx += tile) {
      const xTo = Math.min(width - reach, tx + tile);
      const yTo = Math.min(height - reach, ty + tile);
      // Most of a picture is even: where nothing in reach differs by the threshold there is no line.
      if (rangeIn(data, width, tx - reach, ty - reach, xTo + reach, yTo + reach) <= threshold) continue;
      for (let y = ty; y < yTo; y++) {
        for (let i = y * width + tx; i < y * width + xTo; i++) {
          const c = data[i];
          let lowest = threshold;
          let highest = -threshold;
          let a = data[i - s0] - c;
          let b = data[i + s0] - c;
          if (a > lowest && b > lowest) {
            lowest = a < b ? a : b;
            dark[i] = 1;
          } else if (a < highest && b < highest) {
            highest = a > b ? a : b;
            light[i] = 1;
          }
          a = data[i - s1] - c;
          b = data[i + s1] - c;
          if (a > lowest && b > lowest) {
            lowest = a < b ? a : b;
            dark[i] = 2;
          } else if (a < highest && b < highest) {
            highest = a > b ? a : b;
            light[i] = 2;
          }
          a = data[i - s2] - c;
          b = data[i + s2] - c;
          if (a > lowest && b > lowest) {
            lowest = a < b ? a : b;
            dark[i] = 3;
          } else if (a < highest && b < highest) {
            highest = a > b ? a : b;
            light[i] = 3;
          }
          a = data[i - s3] - c;
          b = data[i + s3] - c;
          if (a > lowest && b > lowest) dark[i] = 4;
          else if (a < highest && b < highest) light[i] = 4;
        }
      }
    }
  }
  return { dark, light };
}

/** Largest less smallest value in columns x0..x1, rows y0..y1 (half open). */
function rangeIn(data: Uint8Array, width: number, x0: number, y0: number, x1: number, y1: number): number {
  let low = 255;
  let high = 0;
  for (let y = y0; y < y1; y++) {
    for (let i = y * width + x0; i < y * width + x1; i++) {
      const v = data[i];
      if (v < low) low = v;
      if (v > high) high = v;
    }
  }
  return high - low;
}

/** Longer lines than this are of no use to anyone here, px. */
const LONGEST = 6000;

function linesFromRidges(ridges: Uint8Array, width: number): ThinLine[] {
  const lines: ThinLine[] = [];
  const stack = new Int32Array(1 << 16);
  const tooMany = LONGEST * 8;
  for (let start = width; start < ridges.length - width; start++) {
    if (ridges[start] === 0) continue;
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
            if (second !== 0 || Math.abs(other - first) === 2) continue;
            second = other;
          }
          if (top >= stack.length) continue;
          stack[top++] = j;
          ridges[j] = 0;
        }
      }
    }
    if (n < 6 || n > tooMany) continue;
    const mx = sx / n;
    const my = sy / n;
    // + 1/12: a pixel has width of its own.
    const cxx = sxx / n - mx * mx + 1 / 12;
    const cyy = syy / n - my * my + 1 / 12;
    const cxy = sxy / n - mx * my;
    const half = (cxx + cyy) / 2;
    const root = Math.hypot((cxx - cyy) / 2, cxy);
    const lengthPx = Math.sqrt(12 * (half + root));
    const widthPx = Math.sqrt(12 * Math.max(1e-6, half - root));
    if (lengthPx < 5 || lengthPx > LONGEST || lengthPx < 2.2 * widthPx) continue;
    const angle = 0.5 * Math.atan2(2 * cxy, cxx - cyy);
    lines.push({
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
