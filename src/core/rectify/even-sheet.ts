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
  const out = Uint8Array.from(data);
  for (let y = 0; y < height; y++) {
    const cy = Math.floor(y / cell);
    const ay = y / cell - cy;
    for (let x = 0; x < width; x++) {
      const o = 4 * (y * width + x);
      if (data[o + 3] === 0) continue;
      const cx = Math.floor(x / cell);
      const ax = x / cell - cx;
      const i = cy * nx + cx;
      const top = nodes[i] + (nodes[i + 1] - nodes[i]) * ax;
      const low = nodes[i + nx] + (nodes[i + nx + 1] - nodes[i + nx]) * ax;
      const k = top + (low - top) * ay;
      for (let c = 0; c < 3; c++) {
        const v = data[o + c] * k + 0.5;
        out[o + c] = v > 255 ? 255 : v;
      }
    }
  }
  return { ...sheet, picture: { ...picture, data: out } };
}
