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
    // A row's flow looks at its own and the next row only, so each can be settled at once, while it is at hand.
    for (let y = 0; y < height; y++) {
      raiseFlow(ahead, px, py, toll, width, height, y);
      lowerCost(u, ahead, px, py, votes, width, y);
    }
  }
  return u;
}

/**
 * The same where only some places are open and all others keep what they start with: a band about a border that is nearly right takes a
 * small part of the time. Places on the frame keep theirs too.
 *
 * @param open 1 where a place is to be settled
 */
export function shortestBorderWithin(
  width: number,
  height: number,
  votes: Float32Array,
  toll: Float32Array,
  rounds: number,
  start: Float32Array,
  open: Uint8Array,
): Float32Array {
  const places = inside(open, width, height);
  const u = Float32Array.from(start);
  const ahead = Float32Array.from(start);
  const px = new Float32Array(u.length);
  const py = new Float32Array(u.length);
  // The flow out of a fixed place towards an open one counts as well.
  const flowing = withEarlier(places, width, u.length);
  for (let round = 0; round < rounds; round++) {
    for (let k = 0; k < flowing.length; k++) {
      const i = flowing[k];
      const qx = px[i] + STEP * (ahead[i + 1] - ahead[i]);
      const qy = py[i] + STEP * (ahead[i + width] - ahead[i]);
      const tx = toll[2 * i];
      const ty = toll[2 * i + 1];
      const over = (qx * qx) / (tx * tx) + (qy * qy) / (ty * ty);
      const keep = over > 1 ? 1 / Math.sqrt(over) : 1;
      px[i] = qx * keep;
      py[i] = qy * keep;
    }
    for (let k = 0; k < places.length; k++) {
      const i = places[k];
      const before = u[i];
      let after = before + STEP * (px[i] - px[i - 1] + py[i] - py[i - width] - votes[i]);
      after = after < 0 ? 0 : after > 1 ? 1 : after;
      u[i] = after;
      ahead[i] = 2 * after - before;
    }
  }
  return u;
}

function inside(open: Uint8Array, width: number, height: number): Int32Array {
  const places: number[] = [];
  for (let y = 1; y < height - 1; y++) {
    for (let x = 1, i = y * width + 1; x < width - 1; x++, i++) if (open[i]) places.push(i);
  }
  return Int32Array.from(places);
}

/** The places, and those just left of and above them; in order. */
function withEarlier(places: Int32Array, width: number, count: number): Int32Array {
  const marked = new Uint8Array(count);
  for (const i of places) marked[i] = marked[i - 1] = marked[i - width] = 1;
  const all: number[] = [];
  for (let i = 0; i < count; i++) if (marked[i]) all.push(i);
  return Int32Array.from(all);
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
    const over = (qx * qx) / (tx * tx) + (qy * qy) / (ty * ty);
    const keep = over > 1 ? 1 / Math.sqrt(over) : 1;
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
