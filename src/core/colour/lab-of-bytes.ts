import { labCurve, whiteXyz, xyzFromLinear } from './lab.js';
import { linearFromByte } from './srgb.js';

/**
 * The Lab curve sampled finely enough that straight lines between the samples are within 2e-4 of a unit of L:
 * the worst place is just above the join at 216/24389, where the curve bends most.
 */
const steps = 8192;
/** Two more samples than steps: rounding may carry white a hair past 1. */
const curve = Float32Array.from({ length: steps + 2 }, (_, i) => labCurve(i / steps));

/** What one channel adds to each tristimulus ratio, in steps of the curve, by its 8-bit value. */
const ratioTable = (channel: 0 | 1 | 2, coordinate: 0 | 1 | 2): Float32Array => {
  const unit = [0, 0, 0] as [number, number, number];
  unit[channel] = 1;
  const weight = (xyzFromLinear(unit)[coordinate] / whiteXyz[coordinate]) * steps;
  return Float32Array.from(linearFromByte, (linear) => weight * linear);
};

const [xr, xg, xb] = ([0, 1, 2] as const).map((c) => ratioTable(c, 0)) as [
  Float32Array,
  Float32Array,
  Float32Array,
];
const [yr, yg, yb] = ([0, 1, 2] as const).map((c) => ratioTable(c, 1)) as [
  Float32Array,
  Float32Array,
  Float32Array,
];
const [zr, zg, zb] = ([0, 1, 2] as const).map((c) => ratioTable(c, 2)) as [
  Float32Array,
  Float32Array,
  Float32Array,
];

/**
 * CIELAB (D65) of interleaved 8-bit encoded sRGB, three floats a pixel; within 0.003 of labFromRgb8.
 * @param channels values a pixel in `bytes`, 3 or more; those after the third (alpha) are passed over.
 */
export function labOfBytes(bytes: Uint8Array, channels = 3): Float32Array {
  const count = Math.floor(bytes.length / channels);
  const lab = new Float32Array(3 * count);
  for (let p = 0, i = 0, j = 0; p < count; p++, i += channels, j += 3) {
    const r = bytes[i];
    const g = bytes[i + 1];
    const b = bytes[i + 2];
    const x = xr[r] + xg[g] + xb[b];
    const y = yr[r] + yg[g] + yb[b];
    const z = zr[r] + zg[g] + zb[b];
    const xi = x | 0;
    const yi = y | 0;
    const zi = z | 0;
    const fx = curve[xi] + (x - xi) * (curve[xi + 1] - curve[xi]);
    const fy = curve[yi] + (y - yi) * (curve[yi + 1] - curve[yi]);
    const fz = curve[zi] + (z - zi) * (curve[zi + 1] - curve[zi]);
    lab[j] = 116 * fy - 16;
    lab[j + 1] = 500 * (fx - fy);
    lab[j + 2] = 200 * (fy - fz);
  }
  return lab;
}
