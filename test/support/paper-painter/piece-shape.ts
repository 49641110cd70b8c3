type Place = readonly [number, number];

/** One side of a shape: straight to a place, or a cubic curve by its two control points. */
export interface Side {
  readonly to: Place;
  readonly by?: readonly [Place, Place];
}

export interface PieceShape {
  readonly outline: readonly Place[];
  readonly corners: readonly { readonly at: Place; readonly turnDeg: number }[];
}

/** Chords stay this close to their curve, mm. */
const CLOSE_MM = 0.005;

/** The closed shape that starts at a place and runs along its sides; the last must end where the first begins. */
export function pieceShape(start: Place, sides: readonly Side[]): PieceShape {
  const outline: Place[] = [];
  const joints: { at: Place; into: Place; out: Place }[] = [];
  let from = start;
  sides.forEach((side, k) => {
    const curve: Place[] = side.by ? flatCurve(from, side.by[0], side.by[1], side.to) : [from, side.to];
    outline.push(...curve.slice(0, -1));
    const next = sides[(k + 1) % sides.length];
    const leaving = next.by ? next.by[0] : next.to;
    const arriving = side.by ? side.by[1] : from;
    joints.push({ at: side.to, into: arriving, out: leaving });
    from = side.to;
  });
  const corners = joints.flatMap(({ at, into, out }) => {
    const a = Math.atan2(at[1] - into[1], at[0] - into[0]);
    const b = Math.atan2(out[1] - at[1], out[0] - at[0]);
    const turnDeg = (Math.atan2(Math.sin(b - a), Math.cos(b - a)) * 180) / Math.PI;
    return Math.abs(turnDeg) >= 20 ? [{ at, turnDeg }] : [];
  });
  return { outline, corners };
}

function flatCurve(a: Place, b: Place, c: Place, d: Place): Place[] {
  // The second difference bounds how far a chord leaves the curve.
  const bend = Math.max(
    Math.hypot(a[0] - 2 * b[0] + c[0], a[1] - 2 * b[1] + c[1]),
    Math.hypot(b[0] - 2 * c[0] + d[0], b[1] - 2 * c[1] + d[1]),
  );
  const n = Math.max(2, Math.ceil(Math.sqrt((0.75 * bend) / CLOSE_MM)));
  return Array.from({ length: n + 1 }, (_, i) => {
    const t = i / n;
    const s = 1 - t;
    const mix = (k: 0 | 1) =>
      s * s * s * a[k] + 3 * s * s * t * b[k] + 3 * s * t * t * c[k] + t * t * t * d[k];
    return [mix(0), mix(1)];
  });
}

export function areaOf(polygon: readonly Place[]): number {
  return (
    polygon.reduce((sum, [x, y], k) => {
      const [nx, ny] = polygon[(k + 1) % polygon.length];
      return sum + x * ny - y * nx;
    }, 0) / 2
  );
}

export const lengthOf = (polygon: readonly Place[]): number =>
  polygon.reduce((sum, [x, y], k) => {
    const [nx, ny] = polygon[(k + 1) % polygon.length];
    return sum + Math.hypot(nx - x, ny - y);
  }, 0);

/** Place and direction so far along a closed line. */
export function placeAlong(
  polygon: readonly Place[],
  atMm: number,
): { at: Place; along: Place; after: number } {
  let left = atMm;
  for (let k = 0; ; k = (k + 1) % polygon.length) {
    const [x, y] = polygon[k];
    const [nx, ny] = polygon[(k + 1) % polygon.length];
    const length = Math.hypot(nx - x, ny - y);
    if (left <= length && length > 0) {
      const t = left / length;
      return {
        at: [x + t * (nx - x), y + t * (ny - y)],
        along: [(nx - x) / length, (ny - y) / length],
        after: k,
      };
    }
    left -= length;
  }
}

/** The line with a notch cut into it, about a place so far along: a V, or a slit of even width. Counter-clockwise lines have their inside on the left. */
export function withNotch(
  polygon: readonly Place[],
  atMm: number,
  kind: 'vee' | 'snip',
  widthMm: number,
  depthMm: number,
): Place[] {
  const total = lengthOf(polygon);
  const a = placeAlong(polygon, (atMm - widthMm / 2 + total) % total);
  const b = placeAlong(polygon, (atMm + widthMm / 2) % total);
  const m = placeAlong(polygon, atMm % total);
  const inwards: Place = [-m.along[1], m.along[0]];
  const deep = (p: Place): Place => [p[0] + depthMm * inwards[0], p[1] + depthMm * inwards[1]];
  const cut = kind === 'vee' ? [a.at, deep(m.at), b.at] : [a.at, deep(a.at), deep(b.at), b.at];
  const kept: Place[] = [];
  for (let k = (b.after + 1) % polygon.length; ; k = (k + 1) % polygon.length) {
    kept.push(polygon[k]);
    if (k === a.after) break;
  }
  return [...kept, ...cut];
}

/** Convex hull, counter-clockwise (Andrew's monotone chain). */
export function hullOf(points: readonly Place[]): Place[] {
  const sorted = [...points].sort((p, q) => p[0] - q[0] || p[1] - q[1]);
  const half = (list: readonly Place[]): Place[] => {
    const out: Place[] = [];
    for (const p of list) {
      while (out.length >= 2) {
        const [ax, ay] = out[out.length - 2];
        const [bx, by] = out[out.length - 1];
        if ((bx - ax) * (p[1] - ay) - (by - ay) * (p[0] - ax) > 0) break;
        out.pop();
      }
      out.push(p);
    }
    return out.slice(0, -1);
  };
  return [...half(sorted), ...half([...sorted].reverse())];
}
