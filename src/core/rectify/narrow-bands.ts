import type { StraightCloth } from './straight-cloth.js';

/** A step across of this many levels in one channel counts as a band's edge. */
const STEP = 10;
/** One band in twenty may be narrower: a scratch or a seam is no band. */
const NARROW_SHARE = 0.05;

/** An edge steps in this part of the rows at least, by half as much as the median does; the rim of a motif in fewer. */
const EDGE_ROWS = 0.5;

/** Fewer rows than this tell nothing of a column. */
const FEWEST_ROWS = 4;

/**
 * About how many columns the narrowest bands of a straight picture have: spacing of the steep places of its median cross section
 * that most rows show (dense motifs draw the median to and fro). Infinity with fewer than two. Some tens of rows are enough.
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
  const isEdge = (x: number): boolean => {
    const rises = [0, 1, 2].map((c) => middle[3 * (x + 1) + c] - middle[3 * (x - 1) + c]);
    const c = rises.reduce((p, rise, q) => (Math.abs(rise) > Math.abs(rises[p]) ? q : p), 0);
    const sign = Math.sign(rises[c]);
    let seen = 0;
    let steps = 0;
    for (let row = 0; row < cloth.length; row += width) {
      if (!(cloth[row + x - 1] && cloth[row + x] && cloth[row + x + 1])) continue;
      seen++;
      // Within a column of the place: edges are not quite straight.
      let most = Number.NEGATIVE_INFINITY;
      for (let i = row + x - 1; i <= row + x + 1; i++) {
        const step = sign * (data[3 * (i + 1) + c] - data[3 * (i - 1) + c]);
        if (step > most) most = step;
      }
      if (most >= 0.5 * sign * rises[c]) steps++;
    }
    return steps >= EDGE_ROWS * seen;
  };
  const gaps: number[] = [];
  let last = -1;
  for (let x = 2; x < width - 2; x++) {
    const own = slope(x);
    if (own < STEP || own < slope(x - 1) || own <= slope(x + 1) || !isEdge(x)) continue;
    if (last >= 0) gaps.push(x - last);
    last = x;
  }
  gaps.sort((p, q) => p - q);
  return gaps.length > 0 ? gaps[Math.floor(NARROW_SHARE * gaps.length)] : Infinity;
}
