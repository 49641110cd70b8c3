import type { ClothTexture } from './cloth-raster.js';

/**
 * Cloth v of a line about which the rows of a cloth, folded to one repeat along the stripes, mirror best: read
 * from the pixels, since a model counts a check's cross stripes from an origin of their own. Green stands
 * for lightness; uncovered, photographed pixels only.
 */
export function crossAxisMm(texture: ClothTexture, alongMm: number): number {
  const { picture, pxPerMm, topVMm } = texture;
  const { width, height, data } = picture;
  const bins = Math.max(8, Math.round(alongMm * pxPerMm));
  const sums = new Float64Array(bins);
  const counts = new Float64Array(bins);
  for (let y = 0; y < height; y++) {
    const v = topVMm - (y + 0.5) / pxPerMm;
    const bin = Math.floor((v / alongMm - Math.floor(v / alongMm)) * bins);
    for (let x = 0; x < width; x++) {
      const i = 4 * (y * width + x);
      if (data[i + 3] !== 255) continue;
      sums[bin] += data[i + 1];
      counts[bin]++;
    }
  }
  const profile = sums.map((sum, k) => (counts[k] > 0 ? sum / counts[k] : 0));
  let best = 0;
  let least = Number.POSITIVE_INFINITY;
  // Bins k and s - k mirror each other about the edge between bins where s is odd, a bin's middle where it is even.
  for (let s = 0; s < bins; s++) {
    let misfit = 0;
    for (let k = 0; k < bins; k++) misfit += (profile[k] - profile[(s - k + bins) % bins]) ** 2;
    if (misfit < least) {
      least = misfit;
      best = s;
    }
  }
  return ((best + 1) / 2 / bins) * alongMm;
}
