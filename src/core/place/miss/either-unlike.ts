import type { Point } from '../../math/matrix3.js';
import { type AreaProfile, areaBelow, areaProfile } from '../shape/area-profile.js';
import type { Strips } from './shown-area.js';
import type { Stretches } from './stretches.js';

/** What a check shows: the bands of either direction as numbers of their colours. */
export interface BothShow {
  readonly across: Int32Array;
  readonly along: Int32Array;
}

/** One side of a seam on a check: what the bands of either direction show along it. */
export interface BothStretches {
  readonly across: Stretches;
  readonly along: Stretches;
}

/** The stretches, as parts of the seam, over which its two sides differ in one direction's colour or the other's. */
export function eitherUnlike(left: BothStretches, right: BothStretches, show: BothShow): [number, number][] {
  const found: [number, number][] = [];
  const walks = [
    { l: left.across, r: right.across, show: show.across, i: 0, j: 0 },
    { l: left.along, r: right.along, show: show.along, i: 0, j: 0 },
  ];
  let at = 0;
  for (;;) {
    let next = 1;
    let unlike = false;
    for (const { l, r, show: shown, i, j } of walks) {
      next = Math.min(next, l.endPart[i], r.endPart[j]);
      if (shown[l.index[i]] !== shown[r.index[j]]) unlike = true;
    }
    if (unlike && next > at) {
      const last = found[found.length - 1];
      if (last !== undefined && last[1] >= at - 1e-12) last[1] = next;
      else found.push([at, next]);
    }
    at = next;
    for (const walk of walks) {
      if (walk.l.endPart[walk.i] <= next && ++walk.i === walk.l.count) return found;
      if (walk.r.endPart[walk.j] <= next && ++walk.j === walk.r.count) return found;
    }
  }
}

/** Strips of a shape, one direction's, over which copies differ: [from, to] in the shape's coordinate. */
export function unlikeStrips(
  fromMm: number,
  copies: readonly Strips[],
  show: Int32Array,
): [number, number][] {
  const found: [number, number][] = [];
  const at = new Int32Array(copies.length);
  let before = fromMm;
  for (;;) {
    let next = Number.POSITIVE_INFINITY;
    for (let c = 0; c < copies.length; c++) next = Math.min(next, copies[c].endMm[at[c]]);
    const first = show[copies[0].index[at[0]]];
    if (copies.some((strips, c) => show[strips.index[at[c]]] !== first) && next > before)
      found.push([before, next]);
    before = next;
    for (let c = 0; c < copies.length; c++)
      if (copies[c].endMm[at[c]] <= next && ++at[c] === copies[c].endMm.length) return found;
  }
}

/** Area, mm2, of the part of a shape (closed outline) that lies in a strip of p or in a strip of q. */
export function areaInEither(
  outline: readonly Point[],
  across: AreaProfile,
  along: AreaProfile,
  unlike: { readonly across: readonly [number, number][]; readonly along: readonly [number, number][] },
): number {
  const inStrips = (profile: AreaProfile, strips: readonly [number, number][]): number =>
    strips.reduce((sum, [from, to]) => sum + areaBelow(profile, to) - areaBelow(profile, from), 0);
  let area = inStrips(across, unlike.across) + inStrips(along, unlike.along);
  if (unlike.along.length === 0) return area;
  for (const [from, to] of unlike.across) {
    const part = clipToStrip(outline, from, to);
    if (part.length < 3) continue;
    const flipped = part.map(([p, q]): Point => [q, p]);
    if (Math.abs(signedArea(flipped)) > 1e-9) area -= inStrips(areaProfile([flipped]), unlike.along);
  }
  return area;
}

/** The outline's part with from <= p <= to; parts that fall asunder hang together by lines without area. */
function clipToStrip(outline: readonly Point[], from: number, to: number): Point[] {
  const half = (ring: readonly Point[], limit: number, way: 1 | -1): Point[] => {
    const kept: Point[] = [];
    for (let k = 0; k < ring.length; k++) {
      const a = ring[k];
      const b = ring[(k + 1) % ring.length];
      const da = way * (a[0] - limit);
      const db = way * (b[0] - limit);
      if (da >= 0) kept.push(a);
      if (da >= 0 !== db >= 0) kept.push([limit, a[1] + ((limit - a[0]) / (b[0] - a[0])) * (b[1] - a[1])]);
    }
    return kept;
  };
  return half(half(outline, from, 1), to, -1);
}

const signedArea = (ring: readonly Point[]): number =>
  ring.reduce((sum, [x, y], k) => {
    const [nx, ny] = ring[(k + 1) % ring.length];
    return sum + x * ny - nx * y;
  }, 0) / 2;
