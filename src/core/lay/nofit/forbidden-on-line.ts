import type { NoFit } from './no-fit.js';
import { slabAt } from './slabs.js';

/** Room for the crossings of one line, used again for each. */
const at = new Float64Array(4096);
const step = new Int8Array(4096);

/**
 * The forbidden shifts on one straight line: with axis 0 the line x = `line`, told by y; with axis 1 the line y = `line`, told by x. Writes the stretches,
 * two numbers each, ascending, into `out` from `from` on, and returns where they end. A shift at the end of a stretch touches and is allowed.
 */
export function forbiddenOnLine(
  { edges, box, slabs }: NoFit,
  axis: 0 | 1,
  line: number,
  out: Float64Array,
  from: number,
): number {
  if (line <= box[2 * axis] || line >= box[2 * axis + 1]) return from;
  // Counter-clockwise, the lower edge runs to the right, and the left edge downwards.
  const enters = axis === 0 ? 1 : -1;
  const { starts, list } = slabs[axis];
  const slab = slabAt(slabs[axis], line);
  let n = 0;
  for (let i = starts[slab]; i < starts[slab + 1]; i++) {
    const k = list[i] + axis;
    const p = edges[k];
    const q = edges[k + 2];
    if (p <= line === q <= line) continue;
    const other = k + 1 - 2 * axis;
    const place = edges[other] + ((line - p) / (q - p)) * (edges[other + 2] - edges[other]);
    const way = q > p ? enters : -enters;
    // Few crossings: kept in order as they come.
    let to = n++;
    while (to > 0 && (at[to - 1] > place || (at[to - 1] === place && step[to - 1] < way))) {
      at[to] = at[to - 1];
      step[to] = step[to - 1];
      to--;
    }
    at[to] = place;
    step[to] = way;
  }
  let depth = 0;
  let end = from;
  for (let i = 0; i < n; i++) {
    const before = depth;
    depth += step[i];
    if (before <= 0 && depth > 0) out[end++] = at[i];
    else if (before > 0 && depth <= 0) out[end++] = at[i];
  }
  return end - ((end - from) % 2);
}
