import type { Raster } from './raster.js';

/** 98th percentile of luma, 0..255: what counts as light in a picture. */
export function brightestOf({ data }: Raster<Uint8Array>): number {
  const histogram = new Uint32Array(256);
  let count = 0;
  for (let i = 0; i < data.length; i += 53) {
    histogram[data[i]]++;
    count++;
  }
  let brightest = 255;
  for (let above = 0; brightest > 0; brightest--) {
    above += histogram[brightest];
    if (above > 0.02 * count) break;
  }
  return brightest;
}

/**
 * How sharp a picture is: Gaussian sigma of its own sharper edges, px; null when it has no strong edges to judge by. An erf edge of
 * height h and sigma s has a steepest slope of h / (s sqrt(2 pi)), which does not depend on contrast as gradient measures do.
 */
export function edgeBlurOf({ width, height, data }: Raster<Uint8Array>, brightest: number): number | null {
  const widths: number[] = [];
  const reach = 24;
  const rows = 60;
  for (let r = 0; r < rows; r++) {
    const y = Math.floor(((r + 0.5) / rows) * height);
    scanLine(data, y * width, 1, width, reach, brightest, widths);
  }
  for (let r = 0; r < rows; r++) {
    const x = Math.floor(((r + 0.5) / rows) * width);
    scanLine(data, x, width, height, reach, brightest, widths);
  }
  if (widths.length < 12) return null;
  widths.sort((a, b) => a - b);
  // A scan crosses many edges aslant, which widens them; the sharp quarter tells of the lens.
  return widths[Math.floor(widths.length * 0.2)];
}

function scanLine(
  data: Uint8Array,
  start: number,
  stride: number,
  length: number,
  reach: number,
  brightest: number,
  widths: number[],
): void {
  const at = (i: number) => data[start + i * stride];
  for (let i = reach + 2; i < length - reach - 2; i++) {
    const rise = at(i + reach) - at(i - reach);
    const size = Math.abs(rise);
    if (size < 0.2 * brightest || size < 16) continue;
    // Means of five: the plateau on either side must be level, or this is a ramp, not an edge.
    let steepest = 0;
    let place = i;
    for (let k = i - reach + 2; k <= i + reach - 2; k++) {
      const slope = Math.abs(at(k + 1) - at(k - 1) + 0.5 * (at(k + 2) - at(k - 2))) / 4;
      if (slope > steepest) {
        steepest = slope;
        place = k;
      }
    }
    if (Math.abs(place - i) > 2 || steepest <= 0) continue;
    widths.push(size / (steepest * Math.sqrt(2 * Math.PI)));
    i += reach;
  }
}
