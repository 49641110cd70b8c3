import type { Point } from '../../math/matrix3.js';
import { robustSd } from '../../math/robust.js';
import { type Arc, arcOf, between, flatCurve, nearestT, onArcAt, onCurve } from './arc.js';
import type { Corner } from './find-corners.js';

/** A side that strays from a straight line by no more than this once its noise is averaged away is straight, mm. */
const STRAIGHT_MM = 0.25;
/** Smooth sides are averaged over this much either way, mm. */
const SMOOTH_MM = 11;
/** Points of the finished outline are this far apart on curves: on a radius of 20 mm a chord is then 0.02 mm off. */
const STEP_MM = 1.8;
const ROUND_MM = 2;

export interface Side {
  /** From the corner where it begins up to and without the one where it ends. */
  readonly points: readonly Point[];
  readonly straight: boolean;
  /** Scatter of the traced places about it, mm. */
  readonly scatterMm: number;
}

/**
 * The outline between its corners: straight where it is, else smooth by local parabolas (Savitzky and Golay's principle with places as they
 * lie, doi 10.1021/ac60214a047); corners stay sharp.
 */
export function fitSides(points: readonly Point[], corners: readonly Corner[]): Side[] {
  const arc = arcOf(points);
  if (corners.length === 0) return [smoothSide(arc, 0, arc.total, null, null)];
  return corners.map((from, k) => {
    const to = corners[(k + 1) % corners.length];
    const start = from.alongMm;
    const end =
      corners.length === 1 ? start + arc.total : to.alongMm > start ? to.alongMm : to.alongMm + arc.total;
    return straightSide(arc, start, end, from.at, to.at) ?? smoothSide(arc, start, end, from.at, to.at);
  });
}

function straightSide(arc: Arc, start: number, end: number, from: Point, to: Point): Side | null {
  const length = Math.hypot(to[0] - from[0], to[1] - from[1]);
  if (length < 1) return { points: [from], straight: true, scatterMm: 0 };
  const [cx, cy] = [(to[0] - from[0]) / length, (to[1] - from[1]) / length];
  const own = between(
    arc,
    start + Math.min(ROUND_MM, 0.3 * length),
    end - Math.min(ROUND_MM, 0.3 * length),
  ).map((i) => arc.points[i]);
  const misses = own.map(([x, y]) => -(x - from[0]) * cy + (y - from[1]) * cx);
  // Means over stretches: noise goes, a bend stays.
  const stretch = Math.max(3, Math.round(misses.length / Math.max(1, Math.round(length / 12))));
  let worst = 0;
  for (let k = 0; k + stretch <= misses.length; k += stretch) {
    const part = misses.slice(k, k + stretch).sort((a, b) => a - b);
    worst = Math.max(worst, Math.abs(part[stretch >> 1]));
  }
  if (worst > STRAIGHT_MM + 0.0006 * length) return null;
  return { points: [from], straight: true, scatterMm: misses.length > 4 ? robustSd(misses) : 0 };
}

function smoothSide(arc: Arc, start: number, end: number, from: Point | null, to: Point | null): Side {
  const length = end - start;
  const count = Math.max(1, Math.round(length / STEP_MM));
  const points: Point[] = from === null ? [] : [from];
  const misses: number[] = [];
  for (let k = from === null ? 0 : 1; k < count; k++) {
    const s = start + (length * k) / count;
    // Up to a corner only what lies on this side of it counts.
    const low = from === null ? s - SMOOTH_MM : Math.max(start + ROUND_MM, s - SMOOTH_MM);
    const high = to === null ? s + SMOOTH_MM : Math.min(end - ROUND_MM, s + SMOOTH_MM);
    const near = high > low ? between(arc, low + arc.total, high + arc.total).map((i) => arc.points[i]) : [];
    const curve = flatCurve(near, near.length >= 8);
    const here = onArcAt(arc, s);
    if (curve === null) {
      points.push(here);
      continue;
    }
    const { at, way } = onCurve(curve, nearestT(curve, here));
    points.push(at);
    misses.push(-(here[0] - at[0]) * way[1] + (here[1] - at[1]) * way[0]);
  }
  return { points, straight: false, scatterMm: misses.length > 4 ? robustSd(misses) : 0 };
}
