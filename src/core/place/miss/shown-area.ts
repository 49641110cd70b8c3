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
  /** Area of the shape below each end, mm2. */
  readonly belowMm2: Float64Array;
}

export function stripsOver(profile: AreaProfile, line: BandLine, { sign, offsetMm }: AxisLay): Strips {
  const { fromMm } = profile;
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
  const endMm = Float64Array.from(ends);
  return { endMm, index: Int32Array.from(index), belowMm2: endMm.map(areaWalk(profile)) };
}

/** Area of each colour in mm2: colours counted as `show` numbers them, one entry a band of the chain. */
export function areaByShow({ index, belowMm2 }: Strips, show: Int32Array, kinds: number): Float64Array {
  const areas = new Float64Array(kinds);
  for (let k = 0; k < index.length; k++)
    areas[show[index[k]]] += belowMm2[k] - (k === 0 ? 0 : belowMm2[k - 1]);
  return areas;
}

/** Area, mm2, over which not all of the copies show the same. */
export function unlikeArea(copies: readonly Strips[], show: Int32Array): number {
  if (copies.length === 2) return unlikeAreaOfTwo(copies[0], copies[1], show);
  const at = new Int32Array(copies.length);
  let unlike = 0;
  let before = 0;
  for (;;) {
    let first = 0;
    for (let c = 1; c < copies.length; c++)
      if (copies[c].endMm[at[c]] < copies[first].endMm[at[first]]) first = c;
    const next = copies[first].endMm[at[first]];
    const here = copies[first].belowMm2[at[first]];
    const shown = show[copies[0].index[at[0]]];
    if (copies.some(({ index }, c) => show[index[at[c]]] !== shown)) unlike += here - before;
    before = here;
    for (let c = 0; c < copies.length; c++)
      if (copies[c].endMm[at[c]] <= next && ++at[c] === copies[c].endMm.length) return unlike;
  }
}

/** The same for two, which a search asks for most often. */
function unlikeAreaOfTwo(one: Strips, other: Strips, show: Int32Array): number {
  let unlike = 0;
  let before = 0;
  let i = 0;
  let j = 0;
  while (i < one.endMm.length && j < other.endMm.length) {
    const a = one.endMm[i];
    const b = other.endMm[j];
    const here = a < b ? one.belowMm2[i] : other.belowMm2[j];
    if (show[one.index[i]] !== show[other.index[j]]) unlike += here - before;
    before = here;
    if (a <= b) i++;
    if (b <= a) j++;
  }
  return unlike;
}
