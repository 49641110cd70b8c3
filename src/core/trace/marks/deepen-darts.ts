import type { Point } from '../../math/matrix3.js';
import { sampleBilinear } from '../../raster/sample.js';
import { flatCurve, nearestT, onCurve } from '../outline/arc.js';
import type { Corner } from '../outline/find-corners.js';
import type { TracedOutline } from '../outline/outline-of.js';
import { type FlatSheet, sheetFromPlane } from './flat-sheet.js';

/** The mouth of a dart, mm; deeper than so many times its mouth; where the outline turns out to either side of it, degrees. */
const MOST_MOUTH_MM = 40;
const LEAST_DEPTH = 1.2;
const MOUTH_TURN_DEG = 20;
/** Its legs are fitted from the mouth over this part of the depth that was traced. */
const LEGS_PART = 0.6;
/** Places of a leg off its line by less than this are straight, mm. */
const STRAIGHT_MM = 0.3;
/** The point found is carried on no further than so many times the traced depth. */
const MOST_ON = 4;
/** Beside the slit paper is looked for so far away, mm; it differs by at least so many levels, most of the way to the point. */
const SIDE_MM = 2.2;
const LEAST_LEVELS = 5;

export interface DeepenedOutline extends TracedOutline {
  /** By how much the point of a dart lies beyond what was traced of it, at most, mm. */
  readonly carriedMm: number;
}

/**
 * Darts that narrow to less than can be followed: their straight legs are carried on to the point where they meet, where the picture shows
 * a slit that goes on from what was traced.
 */
export function deepenDarts(sheet: FlatSheet, shape: TracedOutline): DeepenedOutline {
  let { outline, corners } = shape;
  let carriedMm = 0;
  for (const p of shape.corners) {
    const k = corners.indexOf(p);
    if (k < 0 || corners.length < 3) continue;
    for (const between of [1, 2]) {
      const q = corners[(k + between) % corners.length];
      const middle = between === 2 ? corners[(k + 1) % corners.length] : null;
      if (q === p || (middle !== null && middle.turnDeg > -60)) continue;
      const dart = dartBetween(sheet, outline, p, q);
      if (dart === null) continue;
      const corner: Corner = { at: dart.point, alongMm: p.alongMm, turnDeg: dart.turnDeg };
      carriedMm = Math.max(carriedMm, dart.carriedMm);
      outline = dart.outline;
      corners = corners.flatMap((c) => (c === middle ? [] : c === p ? [c, corner] : [c]));
      break;
    }
  }
  return { ...shape, outline, corners, carriedMm };
}

interface Dart {
  readonly carriedMm: number;
  readonly point: Point;
  readonly turnDeg: number;
  readonly outline: readonly Point[];
}

function dartBetween(sheet: FlatSheet, outline: readonly Point[], p: Corner, q: Corner): Dart | null {
  if (p.turnDeg < MOUTH_TURN_DEG || q.turnDeg < MOUTH_TURN_DEG) return null;
  const mouth = Math.hypot(q.at[0] - p.at[0], q.at[1] - p.at[1]);
  if (mouth > MOST_MOUTH_MM || mouth < 1) return null;
  const from = outline.indexOf(p.at);
  const to = outline.indexOf(q.at);
  if (from < 0 || to < 0) return null;
  const round = [...outline.slice(from), ...outline.slice(0, from)];
  const count = (to - from + outline.length) % outline.length;
  const side = dense([...round.slice(0, count), q.at]);
  const middle: Point = [(p.at[0] + q.at[0]) / 2, (p.at[1] + q.at[1]) / 2];
  const depths = side.map(([x, y]) => Math.hypot(x - middle[0], y - middle[1]));
  const traced = Math.max(...depths);
  if (traced < LEAST_DEPTH * mouth) return null;
  const deepest = depths.indexOf(traced);
  const leg = (points: readonly Point[], root: Point): ReturnType<typeof flatCurve> =>
    flatCurve(
      points.filter(([x, y]) => {
        const d = Math.hypot(x - root[0], y - root[1]);
        return d > 1.5 && d < LEGS_PART * traced;
      }),
      false,
    );
  const one = leg(side.slice(0, deepest), p.at);
  const other = leg(side.slice(deepest), q.at);
  if (one === null || other === null || Math.max(one.rmsMm, other.rmsMm) > STRAIGHT_MM) return null;
  const a = onCurve(one, nearestT(one, p.at));
  const b = onCurve(other, nearestT(other, q.at));
  const det = a.way[0] * b.way[1] - a.way[1] * b.way[0];
  if (Math.abs(det) < 0.01) return null;
  const t = ((b.at[0] - a.at[0]) * b.way[1] - (b.at[1] - a.at[1]) * b.way[0]) / det;
  const point: Point = [a.at[0] + t * a.way[0], a.at[1] + t * a.way[1]];
  const depth = Math.hypot(point[0] - middle[0], point[1] - middle[1]);
  // What was traced to its point is left as it is.
  if (t < 0 || depth < traced + 0.5 || depth > MOST_ON * traced + mouth) return null;
  if (depth > traced + 2 && !goesOn(sheet, side[deepest], point)) return null;
  const cross = -Math.abs((Math.asin(Math.min(1, Math.abs(det))) * 180) / Math.PI);
  return {
    carriedMm: depth - traced,
    point,
    turnDeg: -180 - cross,
    outline: [p.at, point, ...round.slice(count)],
  };
}

/** Points at most a mm apart. */
function dense(line: readonly Point[]): Point[] {
  return line.flatMap(([x, y], k) => {
    const [u, v] = line[Math.min(k + 1, line.length - 1)];
    const steps = Math.max(1, Math.ceil(Math.hypot(u - x, v - y)));
    return Array.from(
      { length: steps },
      (_, i): Point => [x + (i / steps) * (u - x), y + (i / steps) * (v - y)],
    );
  });
}

/** Whether a thin line, all darker or all lighter than the paper on both sides, runs on from a place over half of the way to another. */
function goesOn(sheet: FlatSheet, from: Point, to: Point): boolean {
  const length = Math.hypot(to[0] - from[0], to[1] - from[1]);
  const [dx, dy] = [(to[0] - from[0]) / length, (to[1] - from[1]) / length];
  const at = (t: number, o: number): number => {
    const [x, y] = sheetFromPlane(sheet, [from[0] + t * dx - o * dy, from[1] + t * dy + o * dx]);
    return sampleBilinear(sheet.luma, sheet.width, sheet.height, x, y);
  };
  let [dark, light, all] = [0, 0, 0];
  for (let t = 0.4; t < 0.6 * length; t += 0.4, all++) {
    let [low, high] = [0, 0];
    for (let o = -0.8; o <= 0.8; o += 0.2) {
      const steps = [at(t, o) - at(t, o - SIDE_MM), at(t, o) - at(t, o + SIDE_MM)];
      low = Math.max(low, -Math.max(...steps));
      high = Math.max(high, Math.min(...steps));
    }
    if (low > LEAST_LEVELS) dark++;
    if (high > LEAST_LEVELS) light++;
  }
  return all > 0 && Math.max(dark, light) > 0.75 * all;
}
