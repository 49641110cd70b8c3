import { UsageError } from '../../base/outcome.js';
import type { Point } from '../../math/matrix3.js';

/**
 * How much of a shape lies below each p: the integral of its width, which is linear between corners, so that the share of any
 * strip is exact. Slab k reaches from fromMm[k] to fromMm[k + 1]; there the width is levelMm[k] + slope[k] (p - fromMm[k]).
 */
export interface AreaProfile {
  readonly fromMm: Float64Array;
  readonly levelMm: Float64Array;
  readonly slope: Float64Array;
  /** Area below fromMm[k], mm2; the last is all of it. */
  readonly belowMm2: Float64Array;
  readonly areaMm2: number;
}

/**
 * rings: closed outlines in (p, q), mm; a hole runs the other way round than what holds it, and rings may not cross. Throws UsageError
 * for a shape without area.
 */
export function areaProfile(rings: readonly (readonly Point[])[]): AreaProfile {
  const fromMm = Float64Array.from(new Set(rings.flatMap((ring) => ring.map(([p]) => p)))).sort();
  const n = fromMm.length;
  const levelMm = new Float64Array(n);
  const slope = new Float64Array(n);
  const index = new Map(Array.from(fromMm, (p, k) => [p, k]));
  let sign = 0;
  for (const ring of rings) {
    for (let k = 0; k < ring.length; k++) {
      const [p0, q0] = ring[k];
      const [p1, q1] = ring[(k + 1) % ring.length];
      sign += p0 * q1 - p1 * q0;
      if (p0 === p1) continue;
      const m = (q1 - q0) / (p1 - p0);
      const way = p1 > p0 ? -1 : 1;
      const from = index.get(Math.min(p0, p1)) as number;
      const to = index.get(Math.max(p0, p1)) as number;
      for (let i = from; i < to; i++) {
        levelMm[i] += way * (q0 + m * (fromMm[i] - p0));
        slope[i] += way * m;
      }
    }
  }
  if (!(Math.abs(sign) > 0))
    throw new UsageError('expected a shape with an area, received one without', 'outline');
  if (sign < 0) for (let i = 0; i < n; i++) [levelMm[i], slope[i]] = [-levelMm[i], -slope[i]];
  const belowMm2 = new Float64Array(n);
  for (let i = 1; i < n; i++) {
    const d = fromMm[i] - fromMm[i - 1];
    belowMm2[i] = belowMm2[i - 1] + d * (levelMm[i - 1] + (slope[i - 1] * d) / 2);
  }
  return { fromMm, levelMm, slope, belowMm2, areaMm2: belowMm2[n - 1] };
}

/** Area below p, mm2. Many in ascending order are quicker by `areaWalk`. */
export function areaBelow(profile: AreaProfile, pMm: number): number {
  return areaWalk(profile)(pMm);
}

/** Area below p for values of p that never fall: each slab is passed once. */
export function areaWalk({
  fromMm,
  levelMm,
  slope,
  belowMm2,
  areaMm2,
}: AreaProfile): (pMm: number) => number {
  let k = 0;
  const last = fromMm.length - 1;
  return (pMm) => {
    if (pMm <= fromMm[0]) return 0;
    if (pMm >= fromMm[last]) return areaMm2;
    while (fromMm[k + 1] < pMm) k++;
    const d = pMm - fromMm[k];
    return belowMm2[k] + d * (levelMm[k] + (slope[k] * d) / 2);
  };
}
