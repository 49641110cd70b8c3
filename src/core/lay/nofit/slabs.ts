/** Edges by the stretch of one axis that they reach over, so that a line crosses few of those that are looked at. */
export interface Slabs {
  readonly from: number;
  /** Slabs a mm. */
  readonly perMm: number;
  /** Where each slab's edges begin in the list; one more than slabs. */
  readonly starts: Int32Array;
  /** Places of edges among the numbers of all. */
  readonly list: Int32Array;
}

/** Some edges a slab, and no more slabs than pay for their making. */
const MOST_SLABS = 64;

/** edges: four numbers each, x, y, x, y; box: least and greatest x, then y. */
export function slabsOf(edges: Float64Array, box: Float64Array, axis: 0 | 1): Slabs {
  const count = Math.max(1, Math.min(MOST_SLABS, edges.length >> 2));
  const from = box[2 * axis];
  const perMm = count / (box[2 * axis + 1] - from);
  const slabOf = (at: number): number => Math.min(count - 1, Math.max(0, Math.floor((at - from) * perMm)));
  const lists: number[][] = Array.from({ length: count }, () => []);
  for (let k = 0; k < edges.length; k += 4) {
    const [p, q] = [edges[k + axis], edges[k + 2 + axis]];
    const last = slabOf(Math.max(p, q));
    for (let slab = slabOf(Math.min(p, q)); slab <= last; slab++) lists[slab].push(k);
  }
  const starts = new Int32Array(count + 1);
  for (let slab = 0; slab < count; slab++) starts[slab + 1] = starts[slab] + lists[slab].length;
  return { from, perMm, starts, list: Int32Array.from(lists.flat()) };
}

/** The slab that holds a place within the box. */
export function slabAt({ from, perMm, starts }: Slabs, at: number): number {
  const slab = ((at - from) * perMm) | 0;
  return slab < 0 ? 0 : slab < starts.length - 1 ? slab : starts.length - 2;
}
