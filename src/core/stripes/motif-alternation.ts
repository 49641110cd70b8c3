import { printedColumns } from './motif-period.js';
import { type MotifRaster, UNSEEN } from './motif-raster.js';

/** A rim that falls differently on the rows from one period to the next is no change of the print. */
const ROWS_A_BIN = 2;

/**
 * How much the print changes from one period to the next in a cycle of `parts` periods: squares of the differences between
 * the parts' means, as a share of the squares of the means. Near 0 for a true period; 1 where all parts but one are empty. Each
 * column is judged by itself, so the drop does not matter.
 */
export function alternation(raster: MotifRaster, periodRows: number, parts: number): number {
  const { width, height, labels, residual } = raster;
  const bins = Math.max(2, Math.round(periodRows / ROWS_A_BIN));
  const all = bins * parts;
  const weight = new Float64Array(all);
  const sum = new Float64Array(3 * all);
  let between = 0;
  let energy = 0;
  for (const x of printedColumns(raster)) {
    weight.fill(0);
    sum.fill(0);
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
        sum[3 * p + c] += (1 - part) * residual[3 * i + c];
        sum[3 * q + c] += part * residual[3 * i + c];
      }
    }
    for (let b = 0; b < bins; b++) {
      let seen = true;
      for (let o = b; o < all; o += bins) seen &&= weight[o] > 0.5;
      if (!seen) continue;
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
  return energy > 0 ? between / energy : 0;
}
