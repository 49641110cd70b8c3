import { clothFromGarment, type HalfOnCloth } from '../model/half-on-cloth.js';
import { leftOnCloth, rightOnCloth } from './half-placement.js';
import { alongSeamMm } from './seam-lengths.js';
import type { SeamRequest } from './seam-request.js';

/** Where both reference points lie on the cloth, mm. */
export interface ReferencePlaces {
  readonly left: { readonly uMm: number; readonly vMm: number };
  readonly right: { readonly uMm: number; readonly vMm: number };
}

/** Both halves as they can be cut from one layer of the cloth. */
export interface HalvesOnCloth {
  readonly left: HalfOnCloth;
  readonly right: HalfOnCloth;
  readonly places: ReferencePlaces;
}

/** How far a half reaches out from its seam, as a part of the seam, where the piece itself is not known. */
export const HALF_REACH = 0.36;
/** Between the two halves, so that scissors pass. */
const GAP_MM = 5;

/**
 * Lays both halves where they do not overlap, allowances included: from the places given they are pushed apart along the stripes,
 * where that changes nothing: by any length on pure stripes, by whole repeats of a print or check. stepMm: that repeat, or null.
 */
export function halvesOnCloth(
  request: SeamRequest,
  from: ReferencePlaces,
  allowanceMm: number,
  stepMm: number | null,
): HalvesOnCloth {
  const at = (apartMm: number): HalvesOnCloth => {
    // The right half goes the whole way apart, then both come back by half of it, to stay about where they were.
    const back = stepMm === null ? apartMm / 2 : stepMm * Math.round(apartMm / 2 / stepMm);
    const places = {
      left: { ...from.left, vMm: from.left.vMm - back },
      right: { ...from.right, vMm: from.right.vMm + apartMm - back },
    };
    return { ...laid(request, places), places };
  };
  const step = stepMm ?? GAP_MM;
  const most = Math.ceil((2.5 * request.seamMm) / step);
  for (let k = 0; k <= most; k++) {
    for (const way of k === 0 ? [0] : [k, -k]) {
      const halves = at(way * step);
      const shapes = [
        cutOutline(halves.left, request.seamMm, allowanceMm, -1),
        cutOutline(halves.right, request.seamMm, allowanceMm, 1),
      ] as const;
      if (!overlapOrTouch(shapes[0], shapes[1])) return halves;
    }
  }
  return at(0);
}

function laid(
  { leftDeg, rightDeg, point, lay, atMm, shiftMm }: SeamRequest,
  { left, right }: ReferencePlaces,
): Pick<HalvesOnCloth, 'left' | 'right'> {
  return {
    left: leftOnCloth(leftDeg, point, { atMm, ...left }),
    right: rightOnCloth(rightDeg, point, lay, { atMm: atMm + alongSeamMm(shiftMm, rightDeg), ...right }),
  };
}

type Corner = readonly [number, number];

/** Corners of a half on the cloth: seam top, seam foot, outer foot, outer top. side: -1 left, 1 right. */
export const halfOutline = (half: HalfOnCloth, seamMm: number, side: -1 | 1): Corner[] =>
  boxOnCloth(half, 0, side * HALF_REACH * seamMm, 0, seamMm);

/** The same with its allowance all round. */
const cutOutline = (half: HalfOnCloth, seamMm: number, allowanceMm: number, side: -1 | 1): Corner[] =>
  boxOnCloth(
    half,
    -side * allowanceMm,
    side * (HALF_REACH * seamMm + allowanceMm),
    -allowanceMm,
    seamMm + allowanceMm,
  );

const boxOnCloth = (half: HalfOnCloth, seamX: number, outerX: number, top: number, foot: number): Corner[] =>
  [
    [seamX, top],
    [seamX, foot],
    [outerX, foot],
    [outerX, top],
  ].map(([x, y]) => clothFromGarment(half, x, y));

/** Convex shapes lie apart exactly where a side of one of them parts them (separating axes). */
function overlapOrTouch(a: readonly Corner[], b: readonly Corner[]): boolean {
  return ![a, b].some((shape) =>
    shape.some(([x, y], k) => {
      const [nextX, nextY] = shape[(k + 1) % shape.length];
      const length = Math.hypot(nextX - x, nextY - y);
      const axis: Corner = [(nextY - y) / length, (x - nextX) / length];
      const along = (corners: readonly Corner[]): number[] =>
        corners.map(([u, v]) => u * axis[0] + v * axis[1]);
      const [p, q] = [along(a), along(b)];
      return Math.min(...p) - Math.max(...q) > GAP_MM || Math.min(...q) - Math.max(...p) > GAP_MM;
    }),
  );
}
