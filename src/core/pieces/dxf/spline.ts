import type { Point } from '../../math/matrix3.js';
import { FLATNESS_MM, flattenedBezier } from '../drawn/curves.js';

/**
 * A B-spline in mm as points, by cutting it into Bezier curves: every inner knot is inserted until it counts as often as the degree (W. Boehm, "Inserting
 * new knots into B-spline curves", Computer-Aided Design 12, 1980, DOI 10.1016/0010-4485(80)90154-2). Null where knots, degree and control points do not belong
 * together.
 */
export function flattenedSpline(
  control: readonly Point[],
  knots: readonly number[],
  degree: number,
  toleranceMm = FLATNESS_MM,
): Point[] | null {
  const isWhole = Number.isInteger(degree) && degree >= 1 && degree <= 7;
  if (!isWhole || control.length <= degree || knots.length !== control.length + degree + 1) return null;
  if (knots.some((knot, i) => !Number.isFinite(knot) || (i > 0 && knot < knots[i - 1]))) return null;
  const [first, last] = [knots[degree], knots[control.length]];
  if (!(last > first)) return null;
  let spline = { control: [...control], knots: [...knots] };
  for (const knot of [...new Set(knots)].filter((one) => one >= first && one <= last)) {
    while (spline.knots.filter((one) => one === knot).length < degree) {
      const next = withKnot(spline, degree, knot);
      if (next === null) break;
      spline = next;
    }
  }
  return bezierPoints(spline, degree, [first, last], toleranceMm);
}

interface Spline {
  readonly control: Point[];
  readonly knots: number[];
}

function withKnot({ control, knots }: Spline, degree: number, u: number): Spline | null {
  // The span that holds u: the last knot that is not greater, within those that count.
  let k = degree;
  while (k + 1 < control.length && knots[k + 1] <= u) k++;
  if (!(knots[k] <= u && u <= knots[k + 1])) return null;
  const next: Point[] = [];
  for (let i = 0; i <= control.length; i++) {
    if (i <= k - degree) next.push(control[i]);
    else if (i > k) next.push(control[i - 1]);
    else {
      const t = (u - knots[i]) / (knots[i + degree] - knots[i]);
      const [p, q] = [control[i - 1], control[i]];
      next.push([p[0] + t * (q[0] - p[0]), p[1] + t * (q[1] - p[1])]);
    }
  }
  return { control: next, knots: [...knots.slice(0, k + 1), u, ...knots.slice(k + 1)] };
}

function bezierPoints(
  { control, knots }: Spline,
  degree: number,
  [first, last]: readonly [number, number],
  toleranceMm: number,
): Point[] {
  const points: Point[] = [];
  for (let k = degree; k < control.length; k++) {
    if (!(knots[k + 1] > knots[k]) || knots[k] < first || knots[k + 1] > last) continue;
    const curve = control.slice(k - degree, k + 1);
    if (points.length === 0) points.push(curve[0]);
    points.push(...flattenedBezier(curve, toleranceMm));
  }
  return points;
}
