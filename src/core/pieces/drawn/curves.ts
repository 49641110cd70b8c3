import type { Point } from '../../math/matrix3.js';

/** Curves become chords none of which lies further from the curve than this, mm: a tenth of the finest pencil line. */
export const FLATNESS_MM = 0.01;

/** Six numbers of SVG's matrix: (x, y) goes to (a x + c y + e, b x + d y + f). */
export type Affine = readonly [number, number, number, number, number, number];

export const IDENTITY: Affine = [1, 0, 0, 1, 0, 0];

/** cFromA = composed(cFromB, bFromA). */
export const composed = (m: Affine, n: Affine): Affine => [
  m[0] * n[0] + m[2] * n[1],
  m[1] * n[0] + m[3] * n[1],
  m[0] * n[2] + m[2] * n[3],
  m[1] * n[2] + m[3] * n[3],
  m[0] * n[4] + m[2] * n[5] + m[4],
  m[1] * n[4] + m[3] * n[5] + m[5],
];

export const applied = (m: Affine, [x, y]: Point): Point => [
  m[0] * x + m[2] * y + m[4],
  m[1] * x + m[3] * y + m[5],
];

/** By how much a map stretches at most: its greater singular value. */
export function greatestStretch([a, b, c, d]: Affine): number {
  const sum = a * a + b * b + c * c + d * d;
  const det = a * d - b * c;
  return Math.sqrt((sum + Math.sqrt(Math.max(0, sum * sum - 4 * det * det))) / 2);
}

/** No curve of a garment needs more: a circle of 10 m takes 2,300. */
const MOST_CHORDS = 20_000;
const chords = (wanted: number): number => Math.min(MOST_CHORDS, Math.max(1, Math.ceil(wanted)));

/**
 * A Bezier curve of degree 2 or 3, in mm, as points after its first. A chord over a step h of the parameter strays by h^2 / 8 times the
 * greatest second derivative, which for these is degree (degree - 1) times the greatest second difference of the control points.
 */
export function flattenedBezier(control: readonly Point[], toleranceMm = FLATNESS_MM): Point[] {
  const degree = control.length - 1;
  let bend = 0;
  for (let i = 0; i + 2 < control.length; i++) {
    const [p, q, r] = [control[i], control[i + 1], control[i + 2]];
    bend = Math.max(bend, Math.hypot(p[0] - 2 * q[0] + r[0], p[1] - 2 * q[1] + r[1]));
  }
  const n = chords(Math.sqrt((degree * (degree - 1) * bend) / (8 * toleranceMm)));
  return Array.from({ length: n }, (_, k) =>
    k + 1 === n ? control[degree] : bezierAt(control, (k + 1) / n),
  );
}

/** de Casteljau's construction. */
function bezierAt(control: readonly Point[], t: number): Point {
  let points = control;
  while (points.length > 1) {
    points = points
      .slice(1)
      .map(
        (q, i): Point => [points[i][0] + t * (q[0] - points[i][0]), points[i][1] + t * (q[1] - points[i][1])],
      );
  }
  return points[0];
}

/** Part of an ellipse about a centre, in the units it was given in. Angles are the ellipse's own parameter, radians. */
export interface EllipseArc {
  readonly centre: Point;
  readonly radii: readonly [number, number];
  /** Turn of its axes. */
  readonly turn: number;
  readonly from: number;
  /** Signed: how far the parameter runs. */
  readonly sweep: number;
}

/**
 * An arc as points in mm after its first, given the map into mm. A chord over an angle h strays by r (1 - cos(h / 2)), and an affine map
 * stretches that by no more than its greatest stretch.
 */
export function flattenedArc(arc: EllipseArc, mmFromArc: Affine, toleranceMm = FLATNESS_MM): Point[] {
  const radiusMm = Math.max(...arc.radii) * greatestStretch(mmFromArc);
  const step = radiusMm <= toleranceMm ? Math.PI / 2 : 2 * Math.acos(1 - toleranceMm / radiusMm);
  const n = chords(Math.abs(arc.sweep) / step);
  return Array.from({ length: n }, (_, k) =>
    applied(mmFromArc, ellipseAt(arc, arc.from + (arc.sweep * (k + 1)) / n)),
  );
}

export function ellipseAt({ centre, radii, turn }: EllipseArc, angle: number): Point {
  const [x, y] = [radii[0] * Math.cos(angle), radii[1] * Math.sin(angle)];
  return [
    centre[0] + x * Math.cos(turn) - y * Math.sin(turn),
    centre[1] + x * Math.sin(turn) + y * Math.cos(turn),
  ];
}

/** The flags and radii of an elliptical arc as SVG path data gives them. */
export interface EndpointArc {
  readonly from: Point;
  readonly to: Point;
  readonly radii: readonly [number, number];
  readonly turnDeg: number;
  readonly large: boolean;
  readonly positive: boolean;
}

/**
 * From end points to the centre, by the SVG standard's implementation notes (SVG 1.1, appendix F.6.5 and F.6.6). Null where the arc is a straight
 * line (a radius of nought) or nothing at all (both ends one point), as F.6.2 has it.
 */
export function centreOfArc({ from, to, radii, turnDeg, large, positive }: EndpointArc): EllipseArc | null {
  if (radii[0] === 0 || radii[1] === 0 || (from[0] === to[0] && from[1] === to[1])) return null;
  const turn = (turnDeg * Math.PI) / 180;
  const [cos, sin] = [Math.cos(turn), Math.sin(turn)];
  const [hx, hy] = [(from[0] - to[0]) / 2, (from[1] - to[1]) / 2];
  const [x, y] = [cos * hx + sin * hy, cos * hy - sin * hx];
  let [rx, ry] = [Math.abs(radii[0]), Math.abs(radii[1])];
  const reach = (x / rx) ** 2 + (y / ry) ** 2;
  // Radii too small to reach from end to end are scaled up until they do.
  if (reach > 1) {
    rx *= Math.sqrt(reach);
    ry *= Math.sqrt(reach);
  }
  const under = (rx * y) ** 2 + (ry * x) ** 2;
  const root = Math.sqrt(Math.max(0, (rx * ry) ** 2 - under) / under) * (large === positive ? -1 : 1);
  const [cx, cy] = [(root * rx * y) / ry, (-root * ry * x) / rx];
  const start = Math.atan2((y - cy) / ry, (x - cx) / rx);
  let sweep = Math.atan2((-y - cy) / ry, (-x - cx) / rx) - start;
  if (positive && sweep < 0) sweep += 2 * Math.PI;
  if (!positive && sweep > 0) sweep -= 2 * Math.PI;
  return {
    centre: [cos * cx - sin * cy + (from[0] + to[0]) / 2, sin * cx + cos * cy + (from[1] + to[1]) / 2],
    radii: [rx, ry],
    turn,
    from: start,
    sweep,
  };
}
