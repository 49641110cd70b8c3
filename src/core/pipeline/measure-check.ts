import { ciede2000 } from '../colour/ciede2000.js';
import type { BandFacts, ColourFacts, SecondDirection } from '../model/band-model.js';
import { clothMap } from '../rectify/camera-plane.js';
import type { PlaneSolution } from '../rectify/solve-plane.js';
import { type PictureLevels, viewSecondStripes } from '../rectify/stripe-view.js';
import type { EdgePoints } from '../rectify/trace-edges.js';
import { summariseStripes } from '../stripes/summarise-stripes.js';
import { metricTraces, readAndTrace } from './measure-stripes.js';

export interface CheckReading {
  readonly facts: SecondDirection;
  /** How far the second direction is from square to the first: 100 tan(angle). */
  readonly skewPercent: number;
}

/**
 * The second direction of a check, in the plane that the first one gave. Its positions run along v of the cloth frame where that
 * grows with its own straight frame, else against it. Null when its bands cannot be read: the cloth is then
 * reported as a stripe. Its bands are named after those of the first direction's `colours` that they are nearest to: both mix
 * the same yarns.
 */
export function measureCheck(
  levels: PictureLevels,
  angle: number,
  pxPerMm: number,
  scaleRelativeSd: number,
  plane: PlaneSolution,
  colours: readonly ColourFacts[],
): CheckReading | null {
  const view = viewSecondStripes(levels, pxPerMm, angle);
  if (view === null) return null;
  const traced = readAndTrace(levels, view, 'check');
  if (!traced.ok) return null;
  const { reading, edges } = traced.value;
  const traces = metricTraces(edges, plane, 'v');
  // Straight columns may run against v; the reading's order is the columns'.
  const rising = isRising(traces.uMm, edges);
  const uMm = rising ? traces.uMm : traces.uMm.map((v) => -v);
  const summary = summariseStripes(reading, view.straight.cloth, { ...traces, uMm }, scaleRelativeSd);
  if (!summary.ok) return null;
  const { repeat, instances } = summary.value;
  const bands = inColours(summary.value.bands, summary.value.colours, colours);
  return { facts: { repeat, bands, instances }, skewPercent: skewOf(edges, plane) };
}

function inColours(
  bands: readonly BandFacts[],
  own: readonly ColourFacts[],
  colours: readonly ColourFacts[],
): BandFacts[] {
  const nearest = new Map(
    own.map(({ id, lab }) => [
      id,
      colours.reduce((p, q) => (ciede2000(lab, q.lab) < ciede2000(lab, p.lab) ? q : p)).id,
    ]),
  );
  const named = (id: string): string => nearest.get(id) ?? id;
  return bands.map((band) => ({
    ...band,
    colour: named(band.colour),
    mix: band.mix.map((part) => ({ ...part, colour: named(part.colour) })),
  }));
}

function isRising(values: Float64Array, { edges, windows }: EdgePoints): boolean {
  const mean = (e: number): number => {
    const seen = [...values.subarray(e * windows, (e + 1) * windows)].filter((v) => !Number.isNaN(v));
    return seen.reduce((s, v) => s + v, 0) / seen.length;
  };
  const means = Array.from({ length: edges }, (_, e) => mean(e)).filter((v) => !Number.isNaN(v));
  return means.length < 2 || means[means.length - 1] > means[0];
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
