import { type BandLine, bandIndexAt } from '../cloth/band-line.js';
import { type AreaProfile, areaWalk } from '../shape/area-profile.js';
import type { AxisLay } from '../shape/copy-shape.js';

/**
 * The strips of the cloth over a shape, in the shape's own coordinate, ascending: strip k ends at endMm[k] and is the chain's band
 * index[k]. The first begins at the shape's edge.
 */
export interface Strips {
  readonly endMm: Float64Array;
  readonly index: Int32Array;
}

export function stripsOver({ fromMm }: AreaProfile, line: BandLine, { sign, offsetMm }: AxisLay): Strips {
  const p0 = fromMm[0];
  const p1 = fromMm[fromMm.length - 1];
  const ends: number[] = [];
  const index: number[] = [];
  let k = bandIndexAt(line, sign * p0 + offsetMm);
  for (;;) {
    const edge = sign > 0 ? line.edgesMm[k + 1] : line.edgesMm[k];
    const p = sign * (edge - offsetMm);
    const isLast = !(p < p1) || (sign > 0 ? k + 2 >= line.edgesMm.length : k === 0);
    // At an edge the band above it counts, so a shape that begins on one while u falls has a first strip of no width.
    if (isLast || p > p0) {
      ends.push(isLast ? p1 : p);
      index.push(k);
    }
    if (isLast) break;
    k += sign;
  }
  return { endMm: Float64Array.from(ends), index: Int32Array.from(index) };
}

/** Area of each colour in mm2: colours counted as `show` numbers them, one entry a band of the chain. */
export function areaByShow(
  profile: AreaProfile,
  { endMm, index }: Strips,
  show: Int32Array,
  kinds: number,
): Float64Array {
  const areas = new Float64Array(kinds);
  const below = areaWalk(profile);
  let before = 0;
  for (let k = 0; k < endMm.length; k++) {
    const here = below(endMm[k]);
    areas[show[index[k]]] += here - before;
    before = here;
  }
  return areas;
}

/** Area, mm2, over which not all of the copies show the same. */
export function unlikeArea(profile: AreaProfile, copies: readonly Strips[], show: Int32Array): number {
  const below = areaWalk(profile);
  const at = new Int32Array(copies.length);
  let unlike = 0;
  let before = 0;
  for (;;) {
    let next = Number.POSITIVE_INFINITY;
    for (let c = 0; c < copies.length; c++) next = Math.min(next, copies[c].endMm[at[c]]);
    const here = below(next);
    const first = show[copies[0].index[at[0]]];
    for (let c = 1; c < copies.length; c++)
      if (show[copies[c].index[at[c]]] !== first) {
        unlike += here - before;
        break;
      }
    before = here;
    for (let c = 0; c < copies.length; c++)
      if (copies[c].endMm[at[c]] <= next && ++at[c] === copies[c].endMm.length) return unlike;
  }
}
