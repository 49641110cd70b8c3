import type { StraightCloth } from './straight-cloth.js';

/** Rows looked at. */
const ROWS = 60;
/** A step across of this many levels in one channel counts as a band's edge. */
const STEP = 10;
/** One band in twenty may be narrower: a scratch or a seam is no band. */
const NARROW_SHARE = 0.05;

/**
 * About how many columns the narrowest bands of a straight picture have: spacing of the steep places of its mean cross section.
 * Infinity with fewer than two.
 */
export function narrowestColumns({ picture: { width, height, data }, cloth }: StraightCloth): number {
  const mean = new Float32Array(3 * width);
  const count = new Float32Array(width);
  const step = Math.max(1, Math.floor(height / ROWS));
  for (let y = step >> 1; y < height; y += step) {
    for (let x = 0; x < width; x++) {
      const i = y * width + x;
      if (!cloth[i]) continue;
      count[x]++;
      for (let c = 0; c < 3; c++) mean[3 * x + c] += data[3 * i + c];
    }
  }
  const slope = (x: number): number => {
    if (x < 1 || x > width - 2 || count[x - 1] < 4 || count[x + 1] < 4) return 0;
    let most = 0;
    for (let c = 0; c < 3; c++) {
      const rise = mean[3 * (x + 1) + c] / count[x + 1] - mean[3 * (x - 1) + c] / count[x - 1];
      most = Math.max(most, Math.abs(rise));
    }
    return most;
  };
  const gaps: number[] = [];
  let last = -1;
  for (let x = 1; x < width - 1; x++) {
    const own = slope(x);
    if (own < STEP || own < slope(x - 1) || own <= slope(x + 1)) continue;
    if (last >= 0) gaps.push(x - last);
    last = x;
  }
  gaps.sort((p, q) => p - q);
  return gaps.length > 0 ? gaps[Math.floor(NARROW_SHARE * gaps.length)] : Infinity;
}
