import { type Outline, signedAreaMm2 } from '../../pieces/geometry/outline.js';

/** A closed outline, counter-clockwise, as arrays: edge k runs from corner k to the next one. */
export interface Ring {
  readonly x: Float64Array;
  readonly y: Float64Array;
  /** Direction of each edge, radians in (-pi, pi]. */
  readonly angle: Float64Array;
}

/** An outline of either winding as a ring; edges without a length are left out. */
export function ringOf(outline: Outline): Ring {
  const ordered = signedAreaMm2(outline) < 0 ? [...outline].reverse() : outline;
  const corners = ordered.filter(([x, y], k) => {
    const [nextX, nextY] = ordered[(k + 1) % ordered.length];
    return x !== nextX || y !== nextY;
  });
  return withAngles(
    Float64Array.from(corners, ([x]) => x),
    Float64Array.from(corners, ([, y]) => y),
  );
}

/** The ring turned half round about the origin. */
export const throughOrigin = ({ x, y }: Ring): Ring =>
  withAngles(
    x.map((at) => -at),
    y.map((at) => -at),
  );

function withAngles(x: Float64Array, y: Float64Array): Ring {
  const n = x.length;
  const angle = new Float64Array(n);
  for (let k = 0; k < n; k++) {
    const next = k + 1 < n ? k + 1 : 0;
    // Adding 0 turns -0 into 0, or the two ends of a level edge would point to +pi and -pi.
    angle[k] = Math.atan2(y[next] - y[k] + 0, x[next] - x[k]);
  }
  return { x, y, angle };
}
