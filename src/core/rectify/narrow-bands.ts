import type { StraightCloth } from './straight-cloth.js';

/** A step across of this many levels in one channel counts as a band's edge. */
const STEP = 10;
/** One band in twenty may be narrower: a scratch or a seam is no band. */
const NARROW_SHARE = 0.05;

/** Fewer rows than this tell nothing of a column. */
const FEWEST_ROWS = 4;

/**
 * About how many columns the narrowest bands of a straight picture have: spacing of the steep places of its median cross section
 * (motifs are outliers). Infinity with fewer than two. Some tens of rows are enough.
 */
export function narrowestColumns({ picture: { width, height, data }, cloth }: StraightCloth): number {
  const middle = new Float32Array(3 * width).fill(Number.NaN);
  const values = new Uint8Array(height);
  for (let x = 0; x < width; x++) {
    for (let c = 0; c < 3; c++) {
      let n = 0;
      for (let i = x; i < cloth.length; i += width) if (cloth[i]) values[n++] = data[3 * i + c];
      if (n >= FEWEST_ROWS) middle[3 * x + c] = values.subarray(0, n).sort()[n >> 1];
    }
  }
  const slope = (x: number): number => {
    let most = 0;
    for (let c = 0; c < 3; c++) {
      const rise = Math.abs(middle[3 * (x + 1) + c] - middle[3 * (x - 1) + c]);
      if (rise > most) most = rise;
    }
    return most;
  };
  const gaps: number[] = [];
  let last = -1;
  for (let x = 2; x < width - 2; x++) {
    const own = slope(x);
    if (own < STEP || own < slope(x - 1) || own <= slope(x + 1)) continue;
    if (last >= 0) gaps.push(x - last);
    last = x;
  }
  gaps.sort((p, q) => p - q);
  return gaps.length > 0 ? gaps[Math.floor(NARROW_SHARE * gaps.length)] : Infinity;
}
