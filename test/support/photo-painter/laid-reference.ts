import type { PlacedReference } from './scene.js';

/**
 * A reference as it lies: its own frame (s, t as its marks say, mm) against the cloth's. It may be stretched, and a
 * tape may be bent: its axis is then a parabola, along which s is the arc.
 */
export interface LaidReference {
  /** [u, v, du/dx, du/dy, dv/dx, dv/dy] to [s, t, ds/dx, ds/dy, dt/dx, dt/dy]. */
  ownFromCloth(from: Float64Array, to: Float64Array): void;
  clothFromOwn(s: number, t: number): [number, number];
}

export function laidReference(
  { angleDeg, atMm, stretch = 0, bendPerMm = 0 }: PlacedReference,
  [width, height]: readonly [number, number],
): LaidReference {
  const a = (angleDeg * Math.PI) / 180;
  const gain = 1 + stretch;
  const alongU = Math.cos(a) * gain;
  const alongV = Math.sin(a) * gain;
  const cos = Math.cos(a) / gain;
  const sin = Math.sin(a) / gain;
  const [u0, v0] = atMm;
  const arc = (2 / 3) * bendPerMm * bendPerMm;
  return {
    ownFromCloth: (from, to) => {
      const u = from[0] - u0;
      const v = from[1] - v0;
      const x = u * cos + v * sin;
      const y = -u * sin + v * cos;
      to[2] = from[2] * cos + from[4] * sin;
      to[3] = from[3] * cos + from[5] * sin;
      to[4] = -from[2] * sin + from[4] * cos;
      to[5] = -from[3] * sin + from[5] * cos;
      if (bendPerMm !== 0) {
        // Square to the bent axis to first order: a tape's half-width is small against its radius.
        const slope = 2 * bendPerMm * x;
        const off = y - bendPerMm * x * x;
        const foot = x + (slope * off) / (1 + slope * slope);
        to[0] = foot + arc * foot * foot * foot + width / 2;
        to[1] = off / Math.sqrt(1 + slope * slope) + height / 2;
        const c = 1 / Math.sqrt(1 + slope * slope);
        for (const i of [2, 3]) {
          const along = (to[i] + slope * to[i + 2]) * c;
          const across = (to[i + 2] - slope * to[i]) * c;
          to[i] = along;
          to[i + 2] = across;
        }
      } else {
        to[0] = x + width / 2;
        to[1] = y + height / 2;
      }
    },
    clothFromOwn: (s, t) => {
      const long = s - width / 2;
      const foot = long - arc * long * long * long + 3 * arc * arc * long ** 5;
      const slope = 2 * bendPerMm * foot;
      const c = 1 / Math.sqrt(1 + slope * slope);
      const off = t - height / 2;
      const x = foot - off * slope * c;
      const y = bendPerMm * foot * foot + off * c;
      return [u0 + x * alongU - y * alongV, v0 + x * alongV + y * alongU];
    },
  };
}
