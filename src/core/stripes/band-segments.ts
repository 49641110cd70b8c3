import { ciede2000 } from '../colour/ciede2000.js';
import { median } from '../math/robust.js';
import type { CrossProfile } from './cross-profile.js';
import { edgeBlur } from './edge-blur.js';
import { partition } from './partition.js';
import type { Segment } from './segment.js';
import { sharpenBands } from './sharpen-bands.js';

export type { Segment };

/**
 * Bands of a profile by optimal partition. The penalty follows the profile's own noise; boundaries that carry no step of
 * their own (a slow drift of light cut in pieces) are closed again, and pieces that are only the blur between two bands are
 * dealt to their neighbours.
 */
export function bandSegments(
  whole: CrossProfile,
  [from, to]: readonly [number, number] = [whole.from, whole.to],
): { segments: Segment[]; noise: number } {
  const profile = { ...whole, from, to };
  const { lab } = profile;
  const noise = profileNoise(lab, from, to);
  const n = Math.max(2, to - from);
  // 3 channels, 2 ln n a change (Schwarz), doubled since neighbouring columns share noise (weave, blur).
  const penalty = 2 * Math.max(0.35, noise) ** 2 * (3 + 2 * Math.log(n)) * 2;
  let starts = partition(lab, profile.weight, from, to, penalty);
  starts = withoutDrift(profile, starts, Math.max(1.5, 4 * noise));
  const sigma = edgeBlur(profile.linear, from, to);
  starts = withoutBlur(profile, starts, sigma);
  starts = withoutDrift(profile, starts, Math.max(1.5, 4 * noise));
  const segments = segmentsBetween(profile, starts, sigma);
  // A sliver at the frame has no colour of its own, but its edge ends the band beside it.
  const room = 2 * sigma + 1;
  while (segments.length > 1 && segments[0].to - segments[0].from < room) segments.shift();
  while (
    segments.length > 1 &&
    segments[segments.length - 1].to - segments[segments.length - 1].from < room
  ) {
    segments.pop();
  }
  return { segments, noise };
}

/** Standard deviation of a column's colour, from second differences (bands and slow drift drop out). */
function profileNoise(lab: ArrayLike<number>, from: number, to: number): number {
  const sizes: number[] = [];
  for (let x = from + 1; x < to - 1; x++) {
    let sum = 0;
    for (let c = 0; c < 3; c++) {
      const d = 2 * lab[3 * x + c] - lab[3 * (x - 1) + c] - lab[3 * (x + 1) + c];
      sum += d * d;
    }
    sizes.push(Math.sqrt(sum / 3));
  }
  // Median of the root mean square of three second differences: 0.888 of sqrt(6) sigma.
  return sizes.length > 0 ? median(sizes) / (0.888 * Math.sqrt(6)) : 1;
}

/** Mean colour of columns a..b (half open, clipped to the piece that holds them). */
function meanOf(values: ArrayLike<number>, a: number, b: number): [number, number, number] {
  const sum: [number, number, number] = [0, 0, 0];
  for (let x = a; x < b; x++) for (let c = 0; c < 3; c++) sum[c] += values[3 * x + c];
  const n = Math.max(1, b - a);
  return [sum[0] / n, sum[1] / n, sum[2] / n];
}

const distance = (p: readonly number[], q: readonly number[]): number =>
  Math.hypot(p[0] - q[0], p[1] - q[1], p[2] - q[2]);

/** Closes boundaries whose step, judged close by on either side, is below `least` (CIE76), the faintest first. */
function withoutDrift({ lab, from, to }: CrossProfile, starts: readonly number[], least: number): number[] {
  const kept = [...starts];
  for (;;) {
    let faintest = -1;
    let size = least;
    for (let i = 0; i < kept.length; i++) {
      const before = i > 0 ? kept[i - 1] : from;
      const after = i + 1 < kept.length ? kept[i + 1] : to;
      const reach = 8;
      const left = meanOf(lab, Math.max(before, kept[i] - reach), Math.max(before + 1, kept[i] - 1));
      const right = meanOf(lab, Math.min(after - 1, kept[i] + 1), Math.min(after, kept[i] + reach));
      const step = distance(left, right);
      if (step < size) {
        size = step;
        faintest = i;
      }
    }
    if (faintest < 0) return kept;
    kept.splice(faintest, 1);
  }
}

/** Removes pieces no wider than a blurred edge whose colour lies on the way between their neighbours' colours. */
function withoutBlur({ lab, from, to }: CrossProfile, starts: readonly number[], sigma: number): number[] {
  const widest = Math.max(4, Math.ceil(4 * sigma));
  const kept = [...starts];
  for (let i = 0; i + 1 < kept.length; ) {
    const a = kept[i];
    const b = kept[i + 1];
    const before = i > 0 ? kept[i - 1] : from;
    const after = i + 2 < kept.length ? kept[i + 2] : to;
    const own = meanOf(lab, a, b);
    const lefts = a - before > 4 ? [meanOf(lab, Math.max(before, a - 8), a - 1)] : columnsOf(lab, before, a);
    const rights = after - b > 4 ? [meanOf(lab, b + 1, Math.min(after, b + 8))] : columnsOf(lab, b, after);
    const between = lefts.some((left) =>
      rights.some((right) => distance(own, left) + distance(own, right) < 1.25 * distance(left, right)),
    );
    if (b - a > widest || !between) {
      i++;
      continue;
    }
    // The one edge that is left stands where the colour changes more; its place is fitted later.
    kept.splice(i, 2, distance(own, lefts[lefts.length - 1]) > distance(own, rights[0]) ? a : b);
    if (i > 0) i--;
  }
  return kept;
}

/** In a line of few columns the blur leaves no plateau: any of its columns may be the one that shows its colour. */
const columnsOf = (lab: ArrayLike<number>, from: number, to: number): number[][] =>
  Array.from({ length: to - from }, (_, i) => meanOf(lab, from + i, from + i + 1));

/** The rough place of every edge, then edges and colours together under the blur that the edges show. */
function segmentsBetween(profile: CrossProfile, starts: readonly number[], sigma: number): Segment[] {
  const { linear, from, to } = profile;
  const bounds = [from, ...starts, to];
  const colours = bounds.slice(0, -1).map((a, i) => {
    const margin = Math.min(2, Math.floor((bounds[i + 1] - a - 1) / 2));
    return meanOf(linear, a + margin, bounds[i + 1] - margin);
  });
  const edges = starts.map((s, i) => crossing(linear, s, colours[i], colours[i + 1], 3 + Math.ceil(sigma)));
  const ordered = edges.every((e, i) => i === 0 || e > edges[i - 1] + 0.5);
  return sharpenBands(linear, from, to, ordered ? edges : starts, sigma);
}

/** Where the profile passes half-way from one colour to the other near column `at`, in columns (outer-edge origin). */
function crossing(
  linear: ArrayLike<number>,
  at: number,
  a: readonly number[],
  b: readonly number[],
  reach: number,
): number {
  const axis = [0, 1, 2].map((c) => b[c] - a[c]);
  const size = axis.reduce((s, v) => s + v * v, 0);
  if (size < 1e-12) return at;
  const share = (x: number): number =>
    [0, 1, 2].reduce((s, c) => s + (linear[3 * x + c] - a[c]) * axis[c], 0) / size;
  for (let d = 0; d <= reach; d++) {
    for (const x of d === 0 ? [at] : [at - d, at + d]) {
      const p = share(x - 1);
      const q = share(x);
      if (p <= 0.5 && q > 0.5) return x - 0.5 + (0.5 - p) / (q - p);
    }
  }
  return at;
}

export const colourStep = (p: Segment, q: Segment): number => ciede2000(p.lab, q.lab);
