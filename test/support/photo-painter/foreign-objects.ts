import { mix, ramp } from './cloth-surface.js';
import { linearFromHex } from './linear-colour.js';
import { noiseTile } from './noise-tile.js';
import type { ForeignObject, ObjectPart } from './scene.js';
import type { SeededRandom } from './seeded-random.js';

/** Lays the objects over what out holds; g holds du/dx, du/dy, dv/dx, dv/dy in mm a px. */
export type ObjectPainter = (u: number, v: number, g: Float64Array, out: Float64Array) => void;

export function objectPainter(objects: readonly ForeignObject[], random: SeededRandom): ObjectPainter {
  const own = new Float64Array(3);
  const things = objects.map(({ parts, shadowMm }) => ({
    shadowMm,
    parts: parts.map((part) => ({
      depth: depthInside(part),
      colour: linearFromHex(part.colour),
      mottle: part.mottle,
    })),
    reach: reachOf(parts, shadowMm),
  }));
  const noise = noiseTile(random);
  return (u, v, g, out) => {
    for (const { parts, shadowMm, reach } of things) {
      if (u < reach[0] || u > reach[1] || v < reach[2] || v > reach[3]) continue;
      let nearest = Number.NEGATIVE_INFINITY;
      for (const part of parts) nearest = Math.max(nearest, part.depth(u, v));
      if (nearest < -shadowMm) continue;
      const shade = 1 - 0.45 * Math.max(0, 1 + Math.min(0, nearest) / shadowMm) ** 2;
      for (let c = 0; c < 3; c++) out[c] *= shade;
      const pixelMm = Math.sqrt((g[0] * g[0] + g[1] * g[1] + g[2] * g[2] + g[3] * g[3]) / 2);
      for (const { depth, colour, mottle } of parts) {
        const inside = depth(u, v);
        const share = ramp(inside / pixelMm);
        if (share <= 0) continue;
        // Rounded: darker towards its rim.
        const round = 0.72 + 0.28 * Math.min(1, inside / 4);
        const cloud = 1 + mottle * (noise(u * 0.08, v * 0.08) + 0.5 * noise(u * 0.7, v * 0.7));
        for (let c = 0; c < 3; c++) own[c] = colour[c] * round * cloud;
        mix(out, own, share);
      }
    }
  };
}

/** Signed depth inside a part, mm: above 0 inside. */
function depthInside(part: ObjectPart): (u: number, v: number) => number {
  if (part.kind === 'ring') {
    const { centre, radiusMm, thicknessMm } = part;
    return (u, v) => thicknessMm / 2 - Math.abs(Math.hypot(u - centre[0], v - centre[1]) - radiusMm);
  }
  const { from, to, radiusFromMm, radiusToMm } = part;
  const du = to[0] - from[0];
  const dv = to[1] - from[1];
  const length2 = du * du + dv * dv;
  return (u, v) => {
    const t = Math.max(0, Math.min(1, ((u - from[0]) * du + (v - from[1]) * dv) / length2));
    const away = Math.hypot(u - from[0] - t * du, v - from[1] - t * dv);
    return radiusFromMm + t * (radiusToMm - radiusFromMm) - away;
  };
}

/** Box that holds an object and its shadow: u from, u to, v from, v to. */
function reachOf(parts: readonly ObjectPart[], shadowMm: number): readonly number[] {
  const discs = parts.flatMap((part) =>
    part.kind === 'ring'
      ? [{ at: part.centre, radius: part.radiusMm + part.thicknessMm }]
      : [
          { at: part.from, radius: part.radiusFromMm },
          { at: part.to, radius: part.radiusToMm },
        ],
  );
  const low = (axis: 0 | 1) => Math.min(...discs.map(({ at, radius }) => at[axis] - radius)) - shadowMm;
  const high = (axis: 0 | 1) => Math.max(...discs.map(({ at, radius }) => at[axis] + radius)) + shadowMm;
  return [low(0), high(0), low(1), high(1)];
}
