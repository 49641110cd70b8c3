import { quantile } from '../math/robust.js';
import type { Raster } from '../raster/raster.js';

/** Thin edges of a picture in CIELAB: of any change of colour, not of lightness alone. */
export interface ColourEdges {
  readonly width: number;
  readonly height: number;
  /** One byte a pixel: 0 no edge; else 1 + the direction along the edge in steps of 1 degree, 0..179. */
  readonly direction: Uint8Array;
  /** Middle of the edge beside each edge pixel's centre, across the edge (to the right of its direction), px. */
  readonly offset: Float32Array;
}

/** Below this many units of colour a px an edge is not seen even on a noiseless picture. */
const leastSlope = 0.8;

/**
 * Edges as ridges of the colour gradient: the largest eigenvalue of the sum of the channels' gradient tensors (Di Zenzo
 * 1986, doi 10.1016/0734-189X(86)90223-9), thinned across the edge. The threshold follows the picture's own flat parts.
 */
export function colourEdges(lab: Raster<Float32Array>): ColourEdges {
  const { width, height } = lab;
  const { slope, angle } = colourGradient(smoothed(lab));
  const sample = slope.filter((_, i) => i % 13 === 0);
  const threshold = Math.min(Math.max(leastSlope, 3 * quantile(sample, 0.25)), 4 * leastSlope);
  const direction = new Uint8Array(width * height);
  const offset = new Float32Array(width * height);
  // Smoothing runs over the ends of rows: the outermost three pixels have no edges.
  for (let y = 3; y < height - 3; y++) {
    for (let x = 3; x < width - 3; x++) {
      const i = y * width + x;
      const s = slope[i];
      if (s < threshold) continue;
      const nx = Math.cos(angle[i]);
      const ny = Math.sin(angle[i]);
      // Neighbours one step along the gradient, halfway between the two nearest pixels' values.
      const ahead = between(slope, width, x + nx, y + ny);
      const behind = between(slope, width, x - nx, y - ny);
      if (s < ahead || s <= behind) continue;
      const along = (Math.round((angle[i] * 180) / Math.PI) + 90 + 360) % 180;
      direction[i] = 1 + along;
      // Peak of the parabola through the three; the gradient's sense is turned to the right of the edge's direction.
      const peak = (0.5 * (ahead - behind)) / (2 * s - ahead - behind + 1e-9);
      const toRight = -Math.sin((along * Math.PI) / 180) * nx + Math.cos((along * Math.PI) / 180) * ny;
      offset[i] = Math.max(-0.5, Math.min(0.5, peak)) * Math.sign(toRight);
    }
  }
  return { width, height, direction, offset };
}

function between(values: Float32Array, width: number, x: number, y: number): number {
  const ix = Math.floor(x);
  const iy = Math.floor(y);
  const ax = x - ix;
  const ay = y - iy;
  const i = iy * width + ix;
  const top = values[i] + (values[i + 1] - values[i]) * ax;
  const low = values[i + width] + (values[i + width + 1] - values[i + width]) * ax;
  return top + (low - top) * ay;
}

/**
 * Five binomial weights each way (standard deviation 1 px): in dark parts a single step of an 8-bit level is a visible
 * step in Lab.
 */
function smoothed({ width, height, channels, data }: Raster<Float32Array>): Raster<Float32Array> {
  const level = new Float32Array(data.length);
  const both = new Float32Array(data.length);
  const row = width * channels;
  const pass = (from: Float32Array, to: Float32Array, step: number): void => {
    // Border pixels stay as they are: no edge is sought there.
    to.set(from);
    for (let i = 2 * step; i < from.length - 2 * step; i++) {
      to[i] =
        (from[i - 2 * step] + from[i + 2 * step] + 4 * (from[i - step] + from[i + step]) + 6 * from[i]) / 16;
    }
  };
  pass(data, level, channels);
  pass(level, both, row);
  return { width, height, channels, data: both };
}

/** Scharr's 3 x 3 derivative (3, 10, 3), units a px; the gradient's angle up to half a turn. */
function colourGradient({ width, height, data }: Raster<Float32Array>): {
  slope: Float32Array;
  angle: Float32Array;
} {
  const slope = new Float32Array(width * height);
  const angle = new Float32Array(width * height);
  const row = 3 * width;
  for (let y = 1; y < height - 1; y++) {
    for (let x = 1; x < width - 1; x++) {
      let xx = 0;
      let xy = 0;
      let yy = 0;
      for (let c = 0; c < 3; c++) {
        const p = y * row + 3 * x + c;
        const nw = data[p - row - 3];
        const ne = data[p - row + 3];
        const sw = data[p + row - 3];
        const se = data[p + row + 3];
        const gx = (3 * (ne - nw + se - sw) + 10 * (data[p + 3] - data[p - 3])) / 32;
        const gy = (3 * (sw - nw + se - ne) + 10 * (data[p + row] - data[p - row])) / 32;
        xx += gx * gx;
        xy += gx * gy;
        yy += gy * gy;
      }
      const half = Math.hypot((xx - yy) / 2, xy);
      slope[y * width + x] = Math.sqrt((xx + yy) / 2 + half);
      angle[y * width + x] = 0.5 * Math.atan2(2 * xy, xx - yy);
    }
  }
  return { slope, angle };
}
