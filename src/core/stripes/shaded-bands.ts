import { median } from '../math/robust.js';
import type { CrossProfile } from './cross-profile.js';
import { lineOver } from './line-over.js';
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

/** A boundary at which the colours of both sides, carried on to it, are nearer than this (CIE76) is none of a band. */
const NO_STEP = 3;
/** They are carried on from so many columns, beyond those that the edge's blur takes. */
const CARRIED = [4, 32] as const;
const BLUR_COLUMNS = 1;

/** The first band whose colour runs on, without a step, into the next one of the repeat's n, in most of the repeats; null where none does. */
export function runsOn(
  { lab }: CrossProfile,
  segments: readonly Segment[],
  places: readonly (BandPlace | null)[],
  n: number,
): number | null {
  for (let band = 0; band < n; band++) {
    const gaps: [number, number, number][] = [];
    for (let s = 0; s + 1 < segments.length; s++) {
      if (places[s]?.band !== band || places[s + 1]?.band !== (band + 1) % n) continue;
      const at = segments[s].to;
      const left = carriedOn(lab, segments[s].from + BLUR_COLUMNS, at - BLUR_COLUMNS, at, 'end');
      const right = carriedOn(lab, at + BLUR_COLUMNS, segments[s + 1].to - BLUR_COLUMNS, at, 'start');
      if (left && right) gaps.push([right[0] - left[0], right[1] - left[1], right[2] - left[2]]);
    }
    if (gaps.length > 0 && Math.hypot(...[0, 1, 2].map((c) => median(gaps.map((g) => g[c])))) < NO_STEP)
      return band;
  }
  return null;
}

/** The colour at a column by the line of least squares through the end of from..to that is next to it; null with too few columns. */
function carriedOn(
  lab: ArrayLike<number>,
  from: number,
  to: number,
  at: number,
  end: 'start' | 'end',
): number[] | null {
  const n = Math.min(CARRIED[1], Math.floor(to) - Math.ceil(from));
  if (n < CARRIED[0]) return null;
  const { mean, slope } = lineOver(lab, end === 'start' ? Math.ceil(from) : Math.floor(to) - n, n);
  const middle = end === 'start' ? Math.ceil(from) + n / 2 : Math.floor(to) - n / 2;
  return mean.map((v, c) => v + slope[c] * (at - middle));
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
  // From beyond the edge's blur the shade is carried on to where its step is looked for.
  const beside = (s: number, side: 1 | -1): Segment['linear'] => {
    const { from, to, linear: mean } = segments[s];
    const columns = to - from;
    if (!isShaded(s) || columns < FEWEST_COLUMNS) return mean;
    const part = (a: number, b: number): [number, number, number] =>
      side === 1
        ? quarter(linear, from + a * columns, from + b * columns)
        : quarter(linear, to - b * columns, to - a * columns);
    const [near, far] = [part(0.08, 0.22), part(0.22, 0.36)];
    // Their middles lie 0.15 and 0.29 of the band from its edge; asked for is what it is at 0.02 to 0.03.
    return near.map((v, c) => Math.max(0, v + 0.9 * (v - far[c]))) as unknown as Segment['linear'];
  };
  return edges.map((edge) =>
    isShaded(edge.left) || isShaded(edge.right)
      ? { ...edge, sides: [beside(edge.left, -1), beside(edge.right, 1)] }
      : edge,
  );
}
