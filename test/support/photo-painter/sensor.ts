import { encodedLevels } from './linear-colour.js';
import type { SensorSpec } from './scene.js';
import type { SeededRandom } from './seeded-random.js';

/** Kernel of a Gaussian, from -radius to radius, summing to 1. */
function gaussianKernel(sigma: number): Float64Array {
  if (sigma <= 0) return Float64Array.of(1);
  const radius = Math.ceil(3.5 * sigma);
  const kernel = Float64Array.from({ length: 2 * radius + 1 }, (_, i) =>
    Math.exp(-((i - radius) ** 2) / (2 * sigma * sigma)),
  );
  const sum = kernel.reduce((total, value) => total + value, 0);
  return kernel.map((value) => value / sum);
}

/** Receives linear rows from top to bottom and writes encoded 8-bit rows, blurred, with noise. */
export interface Sensor {
  /** Linear RGB of the next row. */
  expose(row: Float32Array): void;
  /** Flushes the last rows; the finished data. */
  finish(): Uint8Array;
}

const GAUSSIANS = 1 << 16;

export function sensor(spec: SensorSpec, width: number, height: number, random: SeededRandom): Sensor {
  const kernel = gaussianKernel(spec.blurPx);
  const radius = (kernel.length - 1) / 2;
  const stride = width * 3;
  const ring = Array.from({ length: kernel.length }, () => new Float32Array(stride));
  const data = new Uint8Array(stride * height);
  const blurred = new Float32Array(stride);
  const gaussians = Float32Array.from({ length: GAUSSIANS }, () => random.gaussian());
  let state = Math.floor(random.uniform() * 4294967295) | 1;
  let exposed = 0;
  let written = 0;

  const writeRow = (): void => {
    blurred.fill(0);
    for (let k = 0; k < kernel.length; k++) {
      const y = Math.max(0, Math.min(height - 1, written + k - radius));
      const row = ring[y % ring.length];
      const weight = kernel[k];
      for (let i = 0; i < stride; i++) blurred[i] += weight * row[i];
    }
    let at = written * stride;
    const top = encodedLevels.length - 1;
    for (let x = 0; x < width; x++) {
      // One xorshift step a pixel; its bits pick a brightness error and three smaller colour errors.
      state ^= state << 13;
      state ^= state >>> 17;
      state ^= state << 5;
      const shared = gaussians[state & (GAUSSIANS - 1)];
      for (let c = 0; c < 3; c++) {
        const linear = blurred[x * 3 + c];
        const index = linear <= 0 ? 0 : linear >= 1 ? top : (linear * top + 0.5) | 0;
        const level = encodedLevels[index];
        const own = gaussians[(state >>> (4 + 4 * c)) & (GAUSSIANS - 1)];
        // Shot and read noise after the tone curve: larger in the shadows, smaller near white.
        const sd = spec.noiseLevels * (1.35 - 0.7 * (level / 255));
        const noisy = level + sd * (0.75 * shared + 0.66 * own);
        data[at++] = noisy <= 0 ? 0 : noisy >= 255 ? 255 : (noisy + 0.5) | 0;
      }
    }
    written++;
  };

  return {
    expose: (row) => {
      blurAcross(row, ring[exposed % ring.length], kernel, width);
      exposed++;
      if (exposed > radius) writeRow();
    },
    finish: () => {
      while (written < height) writeRow();
      return data;
    },
  };
}

function blurAcross(from: Float32Array, to: Float32Array, kernel: Float64Array, width: number): void {
  const radius = (kernel.length - 1) / 2;
  const last = (width - 1) * 3;
  for (let x = 0; x < width; x++) {
    let r = 0;
    let g = 0;
    let b = 0;
    for (let k = 0; k < kernel.length; k++) {
      let at = (x + k - radius) * 3;
      if (at < 0) at = 0;
      else if (at > last) at = last;
      const weight = kernel[k];
      r += weight * from[at];
      g += weight * from[at + 1];
      b += weight * from[at + 2];
    }
    to[x * 3] = r;
    to[x * 3 + 1] = g;
    to[x * 3 + 2] = b;
  }
}
