import type { SecondDirection } from '../model/band-model.js';
import { clothMap } from '../rectify/camera-plane.js';
import type { PlaneSolution } from '../rectify/solve-plane.js';
import type { StripeView } from '../rectify/stripe-view.js';
import type { EdgePoints } from '../rectify/trace-edges.js';
import type { StripeSummary } from '../stripes/stripe-summary.js';
import { summariseStripes } from '../stripes/summarise-stripes.js';
import { type CheckColours, checkColours } from './check-colours.js';
import { metricTraces, type TracedStripes } from './measure-stripes.js';

export interface CheckReading {
  readonly facts: SecondDirection;
  /** Both directions in the colours of their yarns. */
  readonly colours: CheckColours;
  /** How far the second direction is from square to the first: 100 tan(angle). */
  readonly skewPercent: number;
}

/**
 * The second direction of a check, in the plane that the first one gave, in order of growing v. Null when its bands cannot be read:
 * the cloth is then reported as a stripe.
 * @param traced along the second direction
 * @param view the same
 * @param first the other direction, as summarised
 */
export function measureCheck(
  { reading, edges }: TracedStripes,
  view: StripeView,
  scaleRelativeSd: number,
  plane: PlaneSolution,
  first: StripeSummary,
): CheckReading | null {
  const traces = metricTraces(edges, plane, 'v');
  const summary = summariseStripes(reading, view.straight.cloth, traces, scaleRelativeSd);
  if (!summary.ok) return null;
  const { repeat, instances, symmetry } = summary.value;
  const colours = checkColours(first, summary.value);
  const { balanced, balance_score, mirror_axes_mm } = symmetry;
  return {
    facts: {
      repeat,
      bands: colours.alongBands,
      instances,
      symmetry: { balanced, balance_score, mirror_axes_mm },
    },
    colours,
    skewPercent: skewOf(edges, plane),
  };
}

/** Mean slope dv/du of the second direction's edges, in percent. */
function skewOf(edges: EdgePoints, plane: PlaneSolution): number {
  const { clothFromPicture } = clothMap(plane.camera);
  let top = 0;
  let low = 0;
  for (let e = 0; e < edges.edges; e++) {
    const points: [number, number][] = [];
    for (let w = 0; w < edges.windows; w++) {
      const i = e * edges.windows + w;
      if (!Number.isNaN(edges.x[i])) points.push([...clothFromPicture(edges.x[i], edges.y[i])]);
    }
    const n = points.length;
    if (n < 4) continue;
    const mu = points.reduce((s, p) => s + p[0], 0) / n;
    const mv = points.reduce((s, p) => s + p[1], 0) / n;
    for (const [u, v] of points) {
      top += (u - mu) * (v - mv);
      low += (u - mu) ** 2;
    }
  }
  return low > 0 ? (100 * top) / low : 0;
}
