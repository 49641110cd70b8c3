import { linearFromByte } from '../../colour/srgb.js';
import type { Point } from '../../math/matrix3.js';
import type { Raster } from '../../raster/raster.js';

/** Linear colour at a corner-origin place, bilinear; beyond the frame its outermost pixels go on. */
export function linearAt(
  { width, height, channels, data }: Raster<Uint8Array>,
  x: number,
  y: number,
  out: Float64Array,
): void {
  const fx = Math.max(0, Math.min(width - 1.001, x - 0.5));
  const fy = Math.max(0, Math.min(height - 1.001, y - 0.5));
  const ix = fx | 0;
  const iy = fy | 0;
  const ax = fx - ix;
  const ay = fy - iy;
  const i = (iy * width + ix) * channels;
  const k = i + width * channels;
  for (let c = 0; c < 3; c++) {
    const top = linearFromByte[data[i + c]] * (1 - ax) + linearFromByte[data[i + channels + c]] * ax;
    const low = linearFromByte[data[k + c]] * (1 - ax) + linearFromByte[data[k + channels + c]] * ax;
    out[c] = top + (low - top) * ay;
  }
}

/** The closed line with points at even steps, about so far apart. */
export function evenly(line: readonly Point[], step: number): Point[] {
  const lengths = line.map(([x, y], k) => {
    const [nx, ny] = line[(k + 1) % line.length];
    return Math.hypot(nx - x, ny - y);
  });
  const total = lengths.reduce((sum, v) => sum + v, 0);
  const count = Math.max(8, Math.round(total / step));
  const out: Point[] = [];
  let k = 0;
  let passed = 0;
  for (let i = 0; i < count; i++) {
    const want = (total * i) / count;
    while (k < line.length - 1 && passed + lengths[k] < want) passed += lengths[k++];
    const t = lengths[k] > 0 ? Math.min(1, (want - passed) / lengths[k]) : 0;
    const [x, y] = line[k];
    const [nx, ny] = line[(k + 1) % line.length];
    out.push([x + t * (nx - x), y + t * (ny - y)]);
  }
  return out;
}

/** Each point the mean of those near it along the closed line, weighed by a bell of `sigma` points. */
export function smoothed(line: readonly Point[], sigma: number): Point[] {
  const reach = Math.ceil(2.5 * sigma);
  const weights = Array.from({ length: 2 * reach + 1 }, (_, k) =>
    Math.exp(-((k - reach) ** 2) / (2 * sigma * sigma)),
  );
  const sum = weights.reduce((a, b) => a + b, 0);
  const n = line.length;
  return line.map((_, i) => {
    let x = 0;
    let y = 0;
    for (let k = -reach; k <= reach; k++) {
      const p = line[(((i + k) % n) + n) % n];
      x += weights[k + reach] * p[0];
      y += weights[k + reach] * p[1];
    }
    return [x / sum, y / sum];
  });
}
