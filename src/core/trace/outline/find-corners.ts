import type { Point } from '../../math/matrix3.js';
import {
  type Arc,
  ahead,
  arcOf,
  bestCurve,
  between,
  type FlatCurve,
  flatCurve,
  nearestT,
  onCurve,
  placeAt,
} from './arc.js';

/** A sharp turn of the outline. */
export interface Corner {
  readonly at: Point;
  /** Way along the line of points that it was found in, mm. */
  readonly alongMm: number;
  /** Positive to the left, degrees. */
  readonly turnDeg: number;
}

/** Blur and the tracing round a corner off over this much either side, mm. */
const ROUND_MM = 2;
/** First look: straight arms this long. */
const SHORT_MM = 6;
/** Second look: curves along this much of either side. */
const LONG_MM = 16;
/** Turns that are worth a second look, and those that are corners, degrees. */
const LOOK_DEG = 16;
const CORNER_DEG = 24;
/** Two corners are at least so far apart, mm: a dart's mouth is wider. */
const APART_MM = 5;

/**
 * Corners of a closed line of points, counter-clockwise, mm: where the curves that run up to a place from either side, each fitted without
 * the rounded places between, meet at an angle.
 */
export function findCorners(points: readonly Point[]): Corner[] {
  const arc = arcOf(points);
  let places = firstLook(arc);
  let corners: Corner[] = [];
  // A place that turns out to be none gives its neighbours longer arms.
  for (let round = 0; round < 3; round++) {
    corners = places.flatMap((alongMm, k) => {
      const before = ahead(places[(k + places.length - 1) % places.length], alongMm, arc.total) || arc.total;
      const after = ahead(alongMm, places[(k + 1) % places.length], arc.total) || arc.total;
      const corner = secondLook(arc, alongMm, before, after);
      return corner === null ? [] : [corner];
    });
    const next = corners.map((corner) => corner.alongMm);
    if (next.length === places.length) break;
    places = next;
  }
  return withDartPoints(corners, arc.total);
}

/** The blunt end of a dart that is too narrow to be followed to its point, mm wide at most. */
const BLUNT_MM = 7;
/** The same of a piece's own sharp tip: paper as narrow as its blur; nobody cuts so narrow an end. */
const BLUNT_TIP_MM = 5.5;
/** Its flanks are followed over this much at least, mm, and carried on by no more than so many times that. */
const FLANK_MM = 8;
const MOST_CARRIED = 2.5;

/** Two corners at a dart's blunt end, or at a sharp tip's, become the point where its flanks meet. */
function withDartPoints(corners: readonly Corner[], total: number): Corner[] {
  const n = corners.length;
  const merged = new Map<number, Corner>();
  const gone = new Set<number>();
  for (let k = 0; k < n && n >= 4; k++) {
    const [p, q] = [corners[k], corners[(k + 1) % n]];
    if (gone.has(k) || gone.has((k + 1) % n) || p.turnDeg * q.turnDeg < 0) continue;
    const turn = p.turnDeg + q.turnDeg;
    const widest = turn < 0 ? BLUNT_MM : BLUNT_TIP_MM;
    if (Math.abs(turn) < 110 || Math.hypot(q.at[0] - p.at[0], q.at[1] - p.at[1]) > widest) continue;
    const point = flanksMeet(corners[(k + n - 1) % n].at, p.at, q.at, corners[(k + 2) % n].at);
    if (point === null) continue;
    // Half-way round the blunt end, so that neither side takes it in.
    const alongMm = (p.alongMm + ahead(p.alongMm, q.alongMm, total) / 2) % total;
    merged.set(k, { at: point, alongMm, turnDeg: turn });
    gone.add((k + 1) % n);
  }
  return corners.flatMap((corner, k) => (gone.has(k) ? [] : [merged.get(k) ?? corner]));
}

function flanksMeet(a: Point, p: Point, q: Point, b: Point): Point | null {
  const first = Math.hypot(p[0] - a[0], p[1] - a[1]);
  const second = Math.hypot(q[0] - b[0], q[1] - b[1]);
  if (Math.min(first, second) < FLANK_MM) return null;
  const u: Point = [(p[0] - a[0]) / first, (p[1] - a[1]) / first];
  const v: Point = [(q[0] - b[0]) / second, (q[1] - b[1]) / second];
  const det = u[0] * -v[1] + u[1] * v[0];
  if (Math.abs(det) < 0.02) return null;
  const t = ((q[0] - p[0]) * -v[1] + (q[1] - p[1]) * v[0]) / det;
  return t > 0 && t < MOST_CARRIED * first ? [p[0] + t * u[0], p[1] + t * u[1]] : null;
}

function firstLook(arc: Arc): number[] {
  const { points, along, total } = arc;
  const turns = points.map((_, i) => {
    const s = along[i] + total;
    const before = pick(points, between(arc, s - SHORT_MM, s - 0.8));
    const after = pick(points, between(arc, s + 0.8, s + SHORT_MM));
    const p = flatCurve(before, false);
    const q = flatCurve(after, false);
    if (p === null || q === null) return 0;
    return (
      (signedTurn(onCurve(p, nearestT(p, points[i])).way, onCurve(q, nearestT(q, points[i])).way) * 180) /
      Math.PI
    );
  });
  const order = points.map((_, i) => i).sort((p, q) => Math.abs(turns[q]) - Math.abs(turns[p]));
  const chosen: number[] = [];
  for (const i of order) {
    if (!(Math.abs(turns[i]) >= LOOK_DEG)) break;
    const at = topMiddle(arc, turns, i);
    const near = chosen.some((s) => {
      const gap = ahead(s, at, total);
      return Math.min(gap, total - gap) < APART_MM;
    });
    if (!near) chosen.push(at);
  }
  return chosen.sort((p, q) => p - q);
}

/** Turns that take in a corner are all alike: the middle of those about a place that are nearly as great, way along the line. */
function topMiddle({ along, total }: Arc, turns: readonly number[], i: number): number {
  const n = turns.length;
  const reach = (step: number): number => {
    let k = 0;
    while (k < n / 2 && turns[(((i + step * (k + 1)) % n) + n) % n] / turns[i] > 0.85) k++;
    return (((i + step * k) % n) + n) % n;
  };
  const from = along[reach(-1)];
  return (from + ahead(from, along[reach(1)], total) / 2) % total;
}

const pick = (points: readonly Point[], indices: readonly number[]): Point[] => indices.map((i) => points[i]);

function secondLook(arc: Arc, alongMm: number, roomBefore: number, roomAfter: number): Corner | null {
  const { points, total } = arc;
  const s = alongMm + total;
  const armOf = (room: number): number => Math.min(LONG_MM, room - ROUND_MM);
  const [a, b] = [armOf(roomBefore), armOf(roomAfter)];
  const cut = Math.min(ROUND_MM, 0.35 * a, 0.35 * b);
  const before = bestCurve(pick(points, between(arc, s - a, s - cut)), a - cut);
  const after = bestCurve(pick(points, between(arc, s + cut, s + b)), b - cut);
  if (before === null || after === null) return null;
  const met = crossing(before, after);
  if (met === null) return null;
  const p = onCurve(before, nearestT(before, met));
  const q = onCurve(after, nearestT(after, met));
  const turn = (signedTurn(p.way, q.way) * 180) / Math.PI;
  const here = placeAt(arc, s);
  const moved = Math.hypot(met[0] - here[0], met[1] - here[1]);
  if (
    Math.abs(turn) < CORNER_DEG ||
    moved > 2 * ROUND_MM + 2 / Math.sin((Math.PI - Math.abs(turn * Math.PI) / 180) / 2)
  ) {
    return Math.abs(turn) < CORNER_DEG ? null : { at: here, alongMm, turnDeg: turn };
  }
  return { at: met, alongMm, turnDeg: turn };
}

/** Where two flat curves meet, near the end of the first and the start of the second: by Newton's method on their tangents. */
export function crossing(p: FlatCurve, q: FlatCurve): Point | null {
  let t = nearestT(p, q.origin);
  let met: Point | null = null;
  for (let round = 0; round < 8; round++) {
    const a = onCurve(p, t);
    const b = onCurve(q, nearestT(q, met ?? q.origin));
    const det = a.way[0] * b.way[1] - a.way[1] * b.way[0];
    if (Math.abs(det) < 0.05) return null;
    const k = ((b.at[0] - a.at[0]) * b.way[1] - (b.at[1] - a.at[1]) * b.way[0]) / det;
    met = [a.at[0] + k * a.way[0], a.at[1] + k * a.way[1]];
    t = nearestT(p, met);
  }
  return met;
}

const signedTurn = (p: Point, q: Point): number =>
  Math.atan2(p[0] * q[1] - p[1] * q[0], p[0] * q[0] + p[1] * q[1]);
