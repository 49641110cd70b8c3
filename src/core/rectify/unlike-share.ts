import { linearFromByte } from '../colour/srgb.js';
import type { StraightCloth } from './straight-cloth.js';

/** Columns and rows that are asked, and places of a column that are tried as its own colour. */
const COLUMNS = 160;
const ROWS = 72;
const TRIED = 12;
/** Sum of the differences of three square roots of linear light under which two places show one colour. */
const SAME_ROOTS = 0.18;
const FEWEST_ROWS = 12;

/**
 * How much of a straight picture does not show its column's commonest colour, 0..1. Down the true stripes that is what lies on them; down
 * rows of motifs across them it is also whatever shows between the motifs, which changes from band to band.
 */
export function unlikeShare({ picture: { width, height, data }, cloth }: StraightCloth): number {
  const columnStep = Math.max(1, Math.floor(width / COLUMNS));
  const rowStep = Math.max(1, Math.floor(height / ROWS));
  const roots = new Float64Array(3 * Math.ceil(height / rowStep));
  let seen = 0;
  let alike = 0;
  for (let x = columnStep >> 1; x < width; x += columnStep) {
    let n = 0;
    for (let y = rowStep >> 1; y < height; y += rowStep) {
      const i = y * width + x;
      if (!cloth[i]) continue;
      for (let c = 0; c < 3; c++) roots[3 * n + c] = Math.sqrt(linearFromByte[data[3 * i + c]]);
      n++;
    }
    if (n < FEWEST_ROWS) continue;
    seen += n;
    alike += commonest(roots, n);
  }
  return seen > 0 ? 1 - alike / seen : 1;
}

/** How many of the first n places show the colour that most of them show. */
function commonest(roots: Float64Array, n: number): number {
  let most = 0;
  for (let t = 0; t < TRIED; t++) {
    const j = 3 * Math.floor(((t + 0.5) * n) / TRIED);
    let count = 0;
    for (let i = 0; i < 3 * n; i += 3) {
      const apart =
        Math.abs(roots[i] - roots[j]) +
        Math.abs(roots[i + 1] - roots[j + 1]) +
        Math.abs(roots[i + 2] - roots[j + 2]);
      if (apart < SAME_ROOTS) count++;
    }
    if (count > most) most = count;
  }
  return most;
}
