import type { Point } from '../../math/matrix3.js';
import { type AreaProfile, areaProfile, areaWalk } from '../shape/area-profile.js';
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

/** The same, as the part of the seam that they take up together: searches ask it for every pair of places. */
export function eitherUnlikePart(left: BothStretches, right: BothStretches, show: BothShow): number {
  const { across: la, along: lb } = left;
  const { across: ra, along: rb } = right;
  let unlike = 0;
  let at = 0;
  let i = 0;
  let j = 0;
  let k = 0;
  let m = 0;
  while (i < la.count && j < ra.count && k < lb.count && m < rb.count) {
    const endI = la.endPart[i];
    const endJ = ra.endPart[j];
    const endK = lb.endPart[k];
    const endM = rb.endPart[m];
    const nextAcross = endI < endJ ? endI : endJ;
    const nextAlong = endK < endM ? endK : endM;
    const next = nextAcross < nextAlong ? nextAcross : nextAlong;
    if (
      show.across[la.index[i]] !== show.across[ra.index[j]] ||
      show.along[lb.index[k]] !== show.along[rb.index[m]]
    )
      unlike += next - at;
    at = next;
    if (endI <= next) i++;
    if (endJ <= next) j++;
    if (endK <= next) k++;
    if (endM <= next) m++;
  }
  return unlike;
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

/** Strips of a coordinate, [from, to], apart and ascending. */
export type StripList = readonly (readonly [number, number])[];

/**
 * Area, mm2, of the part of a shape (closed outline) that lies in a strip of p or in a strip of q, as a function of both lists. What the
 * strips of one coordinate cut out of the shape is kept until others are asked: searches move along one axis at a time.
 */
export function areaInEither(outline: readonly Point[]): (across: StripList, along: StripList) => number {
  const turned = outline.map(([p, q]): Point => [q, p]);
  const [profileP, profileQ] = [areaProfile([outline]), areaProfile([turned])];
  const cutByP = keptParts(outline);
  const cutByQ = keptParts(turned);
  return (across, along) => {
    const area = inStrips(profileP, across) + inStrips(profileQ, along);
    if (across.length === 0 || along.length === 0) return area;
    const [parts, others] = cutByQ.isKept(along) ? [cutByQ.of(along), across] : [cutByP.of(across), along];
    return parts.reduce((sum, part) => sum - inStrips(part, others), area);
  };
}

function inStrips(profile: AreaProfile, strips: StripList): number {
  const below = areaWalk(profile);
  let area = 0;
  for (const [from, to] of strips) area -= below(from) - below(to);
  return area;
}

/** The parts of an outline in strips of its first coordinate, as profiles over the second; those asked last are kept. */
function keptParts(outline: readonly Point[]): {
  readonly isKept: (strips: StripList) => boolean;
  readonly of: (strips: StripList) => readonly AreaProfile[];
} {
  let key = '';
  let kept: readonly AreaProfile[] = [];
  return {
    isKept: (strips) => strips.join() === key,
    of: (strips) => {
      const asked = strips.join();
      if (asked !== key) {
        key = asked;
        kept = strips.flatMap(([from, to]) => {
          const turned = clipToStrip(outline, from, to).map(([p, q]): Point => [q, p]);
          return turned.length >= 3 && Math.abs(signedArea(turned)) > 1e-9 ? [areaProfile([turned])] : [];
        });
      }
      return kept;
    },
  };
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
