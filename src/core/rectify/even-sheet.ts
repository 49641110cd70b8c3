import type { ClothSheet } from './cloth-picture.js';

/**
 * The sheet under even light: every pixel divided by the gain there. The gain is asked for at coarse nodes only
 * (`logGainAt(uMm, vMm)`, natural log in linear light) and interpolated. sRGB's curve is close to a power of 1/2.2, so the gain
 * is applied to the encoded values with that power.
 */
export function evenSheet(sheet: ClothSheet, logGainAt: (uMm: number, vMm: number) => number): ClothSheet {
  const { picture, pxPerMm, leftUMm, topVMm } = sheet;
  const { width, height, data } = picture;
  const cell = 32;
  const nx = Math.ceil(width / cell) + 1;
  const ny = Math.ceil(height / cell) + 1;
  const nodes = new Float32Array(nx * ny);
  for (let y = 0; y < ny; y++) {
    for (let x = 0; x < nx; x++) {
      const gain = logGainAt(leftUMm + (x * cell) / pxPerMm, topVMm - (y * cell) / pxPerMm);
      nodes[y * nx + x] = Math.exp(-Math.max(-1.5, Math.min(1.5, gain)) / 2.2);
    }
  }
  const out = data.slice();
  for (let y = 0; y < height; y++) {
    const cy = Math.floor(y / cell);
    const ay = y / cell - cy;
    for (let cx = 0; cx * cell < width; cx++) {
      const i = cy * nx + cx;
      const left = nodes[i] + (nodes[i + nx] - nodes[i]) * ay;
      const right = nodes[i + 1] + (nodes[i + nx + 1] - nodes[i + 1]) * ay;
      const step = (right - left) / cell;
      const from = 4 * (y * width + cx * cell);
      const to = 4 * (y * width + Math.min(width, (cx + 1) * cell));
      evenPixels(data, out, from, to, left, step);
    }
  }
  return { ...sheet, picture: { ...picture, data: out } };
}

/** Bytes from..to (half open) of one row, the first pixel times `gain`, each next by `step` more. A small loop is compiled early. */
function evenPixels(
  data: Uint8Array,
  out: Uint8Array,
  from: number,
  to: number,
  gain: number,
  step: number,
): void {
  for (let o = from, k = gain; o < to; o += 4, k += step) {
    if (data[o + 3] === 0) continue;
    const red = data[o] * k + 0.5;
    const green = data[o + 1] * k + 0.5;
    const blue = data[o + 2] * k + 0.5;
    out[o] = red > 255 ? 255 : red;
    out[o + 1] = green > 255 ? 255 : green;
    out[o + 2] = blue > 255 ? 255 : blue;
  }
}
