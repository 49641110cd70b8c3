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

export interface ThinLineOptions {
  /** 'dark' lines on light, or 'light' lines on dark. */
  readonly polarity: 'dark' | 'light';
  /** Half-gap in px between a line's middle and the ground on either side. Default 2. */
  readonly reachPx?: number;
  /** Longer components are left out. Default 6000. */
  readonly longestPx?: number;
}

/**
 * Thin lines by ridge pixels (darker, or lighter, than the ground at a short reach on both sides, in one of four
 * directions) joined into components. A component holds at most two neighbouring directions, so that a tick does not
 * merge with the ruler's edge it stands on, nor the lines of a grid with one another.
 *
 * The contrast asked for follows the picture's own noise.
 */
export function findThinLines(luma: Raster<Uint8Array>, options: ThinLineOptions): ThinLine[] {
  const reach = options.reachPx ?? 2;
  const threshold = contrastAboveNoise(luma);
  const ridges = ridgeDirections(luma, reach, threshold, options.polarity === 'dark' ? 1 : -1);
  return linesFromRidges(ridges, luma.width, options.longestPx ?? 6000);
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
  sign: 1 | -1,
): Uint8Array {
  const out = new Uint8Array(width * height);
  const diagonal = Math.max(1, Math.round(reach * Math.SQRT1_2));
  const steps = [reach, diagonal * (width + 1), reach * width, diagonal * (width - 1)];
  const [s0, s1, s2, s3] = steps;
  for (let y = reach; y < height - reach; y++) {
    const end = y * width + width - reach;
    for (let i = y * width + reach; i < end; i++) {
      const c = sign * data[i];
      let best = threshold;
      let label = 0;
      let a = sign * data[i - s0] - c;
      let b = sign * data[i + s0] - c;
      let m = a < b ? a : b;
      if (m > best) {
        best = m;
        label = 1;
      }
      a = sign * data[i - s1] - c;
      b = sign * data[i + s1] - c;
      m = a < b ? a : b;
      if (m > best) {
        best = m;
        label = 2;
      }
      a = sign * data[i - s2] - c;
      b = sign * data[i + s2] - c;
      m = a < b ? a : b;
      if (m > best) {
        best = m;
        label = 3;
      }
      a = sign * data[i - s3] - c;
      b = sign * data[i + s3] - c;
      m = a < b ? a : b;
      if (m > best) label = 4;
      if (label) out[i] = label;
    }
  }
  return out;
}

function linesFromRidges(ridges: Uint8Array, width: number, longestPx: number): ThinLine[] {
  const lines: ThinLine[] = [];
  const stack = new Int32Array(1 << 16);
  const tooMany = longestPx * 8;
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
    if (lengthPx < 5 || lengthPx > longestPx || lengthPx < 2.2 * widthPx) continue;
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
