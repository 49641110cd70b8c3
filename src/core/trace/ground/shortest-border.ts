/**
 * Splits a picture in two: the least of (votes against what each pixel is told to be) + (length of the border, shorter where the picture
 * has an edge). In its continuous form this has one least value, whatever one starts from (Chan, Esedoglu and Nikolova 2006,
 * doi 10.1137/040615286); found by the primal-dual method of Chambolle and Pock 2011, doi 10.1007/s10851-010-0251-1.
 *
 * @param votes above 0 for the ground, below 0 for paper; their size is how sure
 * @param toll of one px of border between a pixel and its right and lower neighbours: 2 values a pixel
 * @param start 0 ground to 1 paper, or null for all in doubt
 * @returns The same: near 0 or 1 nearly everywhere; the border is where it is a half.
 */
export function shortestBorder(
  width: number,
  height: number,
  votes: Float32Array,
  toll: Float32Array,
  rounds: number,
  start: Float32Array | null = null,
): Float32Array {
  const n = width * height;
  const u = start ? Float32Array.from(start) : new Float32Array(n).fill(0.5);
  const ahead = Float32Array.from(u);
  const px = new Float32Array(n);
  const py = new Float32Array(n);
  for (let round = 0; round < rounds; round++) {
    for (let y = 0; y < height; y++) raiseFlow(ahead, px, py, toll, width, height, y);
    for (let y = 0; y < height; y++) lowerCost(u, ahead, px, py, votes, width, y);
  }
  return u;
}

/** Steps with product 1/8: the norm of the gradient squared is 8 at most. */
const STEP = Math.SQRT1_2 / 2;

function raiseFlow(
  ahead: Float32Array,
  px: Float32Array,
  py: Float32Array,
  toll: Float32Array,
  width: number,
  height: number,
  y: number,
): void {
  const last = y === height - 1;
  for (let x = 0, i = y * width; x < width; x++, i++) {
    const gx = x < width - 1 ? ahead[i + 1] - ahead[i] : 0;
    const gy = last ? 0 : ahead[i + width] - ahead[i];
    const qx = px[i] + STEP * gx;
    const qy = py[i] + STEP * gy;
    // An ellipse where the tolls either way differ.
    const tx = toll[2 * i];
    const ty = toll[2 * i + 1];
    const over = Math.sqrt((qx * qx) / (tx * tx) + (qy * qy) / (ty * ty));
    const keep = over > 1 ? 1 / over : 1;
    px[i] = qx * keep;
    py[i] = qy * keep;
  }
}

function lowerCost(
  u: Float32Array,
  ahead: Float32Array,
  px: Float32Array,
  py: Float32Array,
  votes: Float32Array,
  width: number,
  y: number,
): void {
  for (let x = 0, i = y * width; x < width; x++, i++) {
    const divergence = px[i] - (x > 0 ? px[i - 1] : 0) + py[i] - (y > 0 ? py[i - width] : 0);
    const before = u[i];
    let after = before + STEP * (divergence - votes[i]);
    after = after < 0 ? 0 : after > 1 ? 1 : after;
    u[i] = after;
    ahead[i] = 2 * after - before;
  }
}
