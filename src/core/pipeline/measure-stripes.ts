import { type Outcome, refuse, succeed } from '../base/outcome.js';
import { clothMap } from '../rectify/camera-plane.js';
import type { PictureLevels } from '../rectify/picture-levels.js';
import type { EdgePlace } from '../rectify/plane-request.js';
import type { PlaneSolution } from '../rectify/solve-plane.js';
import type { StripeView } from '../rectify/stripe-view.js';
import { type EdgePoints, traceEdges } from '../rectify/trace-edges.js';
import { edgePlaces } from '../stripes/place-edges.js';
import { readStripes } from '../stripes/read-stripes.js';
import type { RoughReading } from '../stripes/stripe-reading.js';
import type { EdgeTraces } from '../stripes/summarise-stripes.js';

/** Stripes of one direction, read roughly and traced at full resolution. */
export interface TracedStripes {
  readonly reading: RoughReading;
  readonly edges: EdgePoints;
  /** For the plane: which lattice place each edge has. */
  readonly places: readonly (EdgePlace | null)[] | null;
}

/** Fewer windows than this along the stripes cannot tell unevenness. */
const WINDOWS = 28;

export function readAndTrace(
  levels: PictureLevels,
  view: StripeView,
  mixing: 'stripe' | 'check',
  bands: number | null = null,
): Outcome<TracedStripes> {
  const { straight } = view;
  const rough = readStripes(straight.cloth, mixing, bands);
  if (!rough.ok) return rough;
  const reading = rough.value;
  const edges = traceReading(levels, view, reading);
  const steady = steadiness(reading, edges, straight.cloth.cloth, straight.cloth.picture.width);
  if (steady < 0.45) {
    return refuse(
      'no-stripes',
      `No stripes found (what look like edges of bands run on along only ${Math.round(100 * steady)} % of their length)`,
      'photograph striped cloth lying flat, with at least two repeats in view, or say where they are or how they run',
      ['region', 'direction'],
    );
  }
  return succeed({
    reading,
    edges,
    places: reading.bandsPerRepeat === null ? null : edgePlaces(reading, reading.places),
  });
}

/** The edges of a reading at full resolution, wherever the picture shows them. */
export function traceReading(
  levels: PictureLevels,
  { straight, frame }: StripeView,
  reading: RoughReading,
): EdgePoints {
  const rows = straight.cloth.picture.height * straight.pxPerRow;
  const pitch = Math.max(40, rows / WINDOWS);
  const windowsV: number[] = [];
  for (let v = straight.vFromPx - pitch / 2; v > straight.vFromPx - rows; v -= pitch) windowsV.push(v);
  return traceEdges(levels.full, frame, {
    edgesU: reading.edges.map((e) => straight.uFromPx + e.column * straight.pxPerColumn),
    windowsV,
    windowPx: 0.9 * pitch,
    sides: reading.edges.map(
      (e) => e.sides ?? [reading.segments[e.left].linear, reading.segments[e.right].linear],
    ),
    hidden: levels.hiddenHalf,
    hiddenShrink: 2,
    hiddenWidth: levels.half.width,
  });
}

/**
 * How much of the visible length the edges hold, for the middle edge of all: near 1 for stripes; spots, wood grain and text have
 * steps in their column medians, too, but few windows show them.
 */
function steadiness(reading: RoughReading, edges: EdgePoints, cloth: Uint8Array, width: number): number {
  const height = cloth.length / width;
  const shares = reading.edges.map((edge, e) => {
    const x = Math.min(width - 1, Math.floor(edge.column));
    let visible = 0;
    for (let y = 0; y < height; y++) visible += cloth[y * width + x];
    let seen = 0;
    for (let w = 0; w < edges.windows; w++) if (!Number.isNaN(edges.x[e * edges.windows + w])) seen++;
    // The window at either end of the visible stretch is often cut off.
    const possible = Math.max(1, (visible / height) * edges.windows - 1);
    return Math.min(1, seen / possible);
  });
  shares.sort((a, b) => a - b);
  return shares[shares.length >> 1] ?? 0;
}

/** Edge points in the metric frame of the cloth, bow taken out. */
export function metricTraces(edges: EdgePoints, plane: PlaneSolution, axis: 'u' | 'v' = 'u'): EdgeTraces {
  const { clothFromPicture } = clothMap(plane.camera);
  const uMm = new Float64Array(edges.x.length).fill(Number.NaN);
  for (let i = 0; i < uMm.length; i++) {
    if (Number.isNaN(edges.x[i])) continue;
    const [u, v] = clothFromPicture(edges.x[i], edges.y[i]);
    uMm[i] = axis === 'u' ? u - plane.bowPerMm * v * v : v;
  }
  const mmPerPx = plane.camera.distanceMm / plane.camera.focalPx;
  return { windows: edges.windows, uMm, blurMm: edges.blurPx * mmPerPx };
}
