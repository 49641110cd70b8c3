import { sinDeg } from './seam-lengths.js';
import type { SeamRequest } from './seam-request.js';
import type { SideEdges } from './side-edges.js';

/** One band edge where it crosses the seam on either side. mm down the seam from its top. */
export interface Crossing {
  /** Counted from the reference point's band: 0 its upper edge, 1 its lower one. */
  readonly edge: number;
  readonly leftMm: number;
  readonly rightMm: number;
  /** Bands above and below the edge, as indices in the repeat. */
  readonly leftBands: readonly [number, number];
  readonly rightBands: readonly [number, number];
}

/** Both sides of a seam. */
export interface SeamSides {
  readonly left: SideEdges;
  readonly right: SideEdges;
}

/** Place on the seam of edge m. */
export const leftAtMm = (side: SideEdges, request: SeamRequest, m: number): number =>
  request.atMm + side.offsetMm(m) / sinDeg(request.leftDeg);
export const rightAtMm = (side: SideEdges, request: SeamRequest, m: number): number =>
  request.atMm + (side.offsetMm(m) + request.shiftMm) / sinDeg(request.rightDeg);

/** Every edge that crosses the seam on at least one side, from the top down. */
export function crossings(sides: SeamSides, request: SeamRequest): Crossing[] {
  const at = (m: number): Crossing => ({
    edge: m,
    leftMm: leftAtMm(sides.left, request, m),
    rightMm: rightAtMm(sides.right, request, m),
    leftBands: [sides.left.bandAfter(m - 1), sides.left.bandAfter(m)],
    rightBands: [sides.right.bandAfter(m - 1), sides.right.bandAfter(m)],
  });
  const inside = (one: Crossing): boolean => on(one.leftMm) || on(one.rightMm);
  const on = (s: number): boolean => s >= 0 && s <= request.seamMm;
  const found: Crossing[] = [];
  // A slip may carry one side's reference band far along, so stop only when both sides are past the end.
  let m = 0;
  for (let one = at(m); one.leftMm >= 0 || one.rightMm >= 0; one = at(--m)) if (inside(one)) found.push(one);
  found.reverse();
  m = 1;
  for (let one = at(m); one.leftMm <= request.seamMm || one.rightMm <= request.seamMm; one = at(++m)) {
    if (inside(one)) found.push(one);
  }
  return found;
}

/** A stretch of the seam along which the two sides show different colours. */
export interface Stretch {
  readonly fromMm: number;
  readonly toMm: number;
}

/** Shorter stretches are rounding, or no one could see them. */
const SHORTEST_STRETCH_MM = 0.02;

/**
 * Where the halves do not meet. colourOf: colour of a band of the repeat; bands of one colour meet whatever
 * their number.
 */
export function unmatchedStretches(
  found: readonly Crossing[],
  request: SeamRequest,
  sides: SeamSides,
  colourOf: (band: number) => string,
): Stretch[] {
  const changes = [
    ...found.map((c) => ({ s: c.leftMm, left: c.leftBands[1], right: -1 })),
    ...found.map((c) => ({ s: c.rightMm, left: -1, right: c.rightBands[1] })),
  ].sort((a, b) => a.s - b.s);
  let left = bandAtTop(sides.left, (m) => leftAtMm(sides.left, request, m));
  let right = bandAtTop(sides.right, (m) => rightAtMm(sides.right, request, m));
  let from = 0;
  const stretches: Stretch[] = [];
  for (const change of [...changes, { s: request.seamMm, left: -1, right: -1 }]) {
    if (change.s < 0) continue;
    const to = Math.min(change.s, request.seamMm);
    if (to - from > SHORTEST_STRETCH_MM && colourOf(left) !== colourOf(right)) {
      const last = stretches[stretches.length - 1];
      if (last !== undefined && from - last.toMm < SHORTEST_STRETCH_MM) {
        stretches[stretches.length - 1] = { fromMm: last.fromMm, toMm: to };
      } else stretches.push({ fromMm: from, toMm: to });
    }
    if (change.left >= 0) left = change.left;
    if (change.right >= 0) right = change.right;
    from = to;
  }
  return stretches;
}

function bandAtTop(side: SideEdges, at: (m: number) => number): number {
  let m = 0;
  while (at(m) > 0) m--;
  while (at(m + 1) <= 0) m++;
  return side.bandAfter(m);
}
