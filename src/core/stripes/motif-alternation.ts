import { printedColumns } from './motif-period.js';
import { type MotifRaster, UNSEEN } from './motif-raster.js';

export interface Alternation {
  /** Squares of the differences between the parts' means, as a share of the squares of the means. */
  readonly change: number;
  /** What of that the scatter within each part would bring about by chance. */
  readonly chance: number;
}

/**
 * How much the print changes from one period to the next in a cycle of `parts` periods: near 0 for a true period, 1 where all
 * parts but one are empty. Each column is judged by itself, so the drop does not matter.
 */
export function alternation(raster: MotifRaster, periodRows: number, parts: number): Alternation {
  const { width, height, labels, residual } = raster;
  const bins = Math.max(2, Math.round(periodRows));
  const all = bins * parts;
  const weight = new Float64Array(all);
  const sum = new Float64Array(3 * all);
  const square = new Float64Array(all);
  let between = 0;
  let energy = 0;
  let scatter = 0;
  let free = 0;
  // Sum over the places compared of the inverse of what each mean stands on.
  let unsure = 0;
  for (const x of printedColumns(raster)) {
    weight.fill(0);
    sum.fill(0);
    square.fill(0);
    for (let y = 0; y < height; y++) {
      const i = y * width + x;
      if (labels[i] === UNSEEN) continue;
      const turn = (y + 0.5) / (periodRows * parts);
      const place = (turn - Math.floor(turn)) * all - 0.5;
      const low = Math.floor(place);
      const part = place - low;
      // Dealt to the two bins it lies between: parts that fall differently on the rows then still compare.
      const p = (low + all) % all;
      const q = (low + 1) % all;
      weight[p] += 1 - part;
      weight[q] += part;
      for (let c = 0; c < 3; c++) {
        const z = residual[3 * i + c];
        sum[3 * p + c] += (1 - part) * z;
        sum[3 * q + c] += part * z;
        square[p] += (1 - part) * z * z;
        square[q] += part * z * z;
      }
    }
    for (let b = 0; b < bins; b++) {
      let seen = true;
      for (let o = b; o < all; o += bins) seen &&= weight[o] > 0.5;
      if (!seen) continue;
      for (let o = b; o < all; o += bins) {
        unsure += 1 / (weight[o] * parts);
        if (weight[o] <= 1) continue;
        const squares = sum[3 * o] ** 2 + sum[3 * o + 1] ** 2 + sum[3 * o + 2] ** 2;
        scatter += square[o] - squares / weight[o];
        free += weight[o] - 1;
      }
      for (let c = 0; c < 3; c++) {
        let total = 0;
        let squares = 0;
        for (let o = b; o < all; o += bins) {
          const mean = sum[3 * o + c] / weight[o];
          total += mean;
          squares += mean * mean;
        }
        between += (squares - (total * total) / parts) / (parts - 1);
        energy += squares / parts;
      }
    }
  }
  if (energy === 0) return { change: 0, chance: 0 };
  return { change: between / energy, chance: free > 0 ? ((scatter / free) * unsure) / energy : 1 };
}
