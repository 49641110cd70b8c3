import { median } from '../math/robust.js';
import type { CrossProfile } from './cross-profile.js';
import type { Segment } from './segment.js';
import type { BandPlace, RoughEdge } from './stripe-reading.js';

/** A band whose colour runs by more than this from one side to the other (CIE76) is shaded; what light leaves is less, and differs from repeat to repeat. */
const SHADED = 7;
/** Bands of fewer columns are mostly edge. */
const FEWEST_COLUMNS = 16;

/**
 * Places in the repeat whose bands are shaded (ombre): their colour runs one way, by as much in every repeat. The run is the median over
 * instances of the difference between the band's last and first quarter, channel by channel.
 */
export function shadedBands(
  { lab }: CrossProfile,
  segments: readonly Segment[],
  places: readonly (BandPlace | null)[],
): number[] {
  const runs = new Map<number, [number, number, number][]>();
  segments.forEach(({ from, to }, i) => {
    const band = places[i]?.band;
    const columns = to - from;
    if (band === undefined || columns < FEWEST_COLUMNS) return;
    const first = quarter(lab, from + 0.08 * columns, from + 0.33 * columns);
    const last = quarter(lab, to - 0.33 * columns, to - 0.08 * columns);
    runs.set(band, [...(runs.get(band) ?? []), [last[0] - first[0], last[1] - first[1], last[2] - first[2]]]);
  });
  return [...runs]
    .filter(([, list]) => Math.hypot(...[0, 1, 2].map((c) => median(list.map((run) => run[c])))) > SHADED)
    .map(([band]) => band)
    .sort((p, q) => p - q);
}

function quarter(lab: ArrayLike<number>, from: number, to: number): [number, number, number] {
  const sum: [number, number, number] = [0, 0, 0];
  const a = Math.round(from);
  const b = Math.max(a + 1, Math.round(to));
  for (let x = a; x < b; x++) for (let c = 0; c < 3; c++) sum[c] += lab[3 * x + c] / (b - a);
  return sum;
}

/** The edges, with the colours beside them where a shaded band's mean is not its colour there. */
export function withShadedSides(
  { linear }: CrossProfile,
  segments: readonly Segment[],
  places: readonly (BandPlace | null)[],
  edges: readonly RoughEdge[],
  shaded: readonly number[],
): readonly RoughEdge[] {
  if (shaded.length === 0) return edges;
  const isShaded = (s: number): boolean => shaded.includes(places[s]?.band ?? -1);
  // Beyond the edge's blur, and no further than its own shade reaches.
  const beside = (s: number, side: 1 | -1): Segment['linear'] => {
    const { from, to, linear: mean } = segments[s];
    const columns = to - from;
    if (!isShaded(s) || columns < FEWEST_COLUMNS) return mean;
    return side === 1
      ? quarter(linear, from + 0.08 * columns, from + 0.25 * columns)
      : quarter(linear, to - 0.25 * columns, to - 0.08 * columns);
  };
  return edges.map((edge) =>
    isShaded(edge.left) || isShaded(edge.right)
      ? { ...edge, sides: [beside(edge.left, -1), beside(edge.right, 1)] }
      : edge,
  );
}
