import type { Point } from '../../math/matrix3.js';
import type { PenStrokes } from './pen-strokes.js';

/** A straight pen line, px of the sheet. */
export interface Stroke {
  readonly from: Point;
  readonly to: Point;
  /** Standard deviation of its direction, degrees. */
  readonly sdDeg: number;
}

/** Directions that are tried, per half turn. */
const TURNS = 360;
/** Marks this near a line are on it, mm; breaks up to the second are bridged. */
const NEAR_MM = 0.6;
const GAP_MM = 4;
/** Shorter lines are writing, mm. */
const LEAST_MM = 32;
const MOST_LINES = 14;

/** Long straight lines among strokes, longest run first: a vote over all directions (Duda and Hart 1972, doi 10.1145/361237.361242), each fitted and taken out. */
export function straightStrokes(
  { dark, mask }: PenStrokes,
  width: number,
  height: number,
  pxPerMm: number,
): Stroke[] {
  const xs: number[] = [];
  const ys: number[] = [];
  for (let y = 0, i = 0; y < height; y++) {
    for (let x = 0; x < width; x++, i++) {
      if (mask[i]) {
        xs.push(x + 0.5);
        ys.push(y + 0.5);
      }
    }
  }
  const free = new Uint8Array(xs.length).fill(1);
  const found: Stroke[] = [];
  for (let k = 0; k < MOST_LINES && xs.length > 0; k++) {
    const line = strongest(xs, ys, free, Math.hypot(width, height));
    if (line === null || line.votes < LEAST_MM * pxPerMm * 0.7) break;
    const fitted = fittedRun(xs, ys, free, line, dark, width, pxPerMm);
    if (fitted !== null) found.push(fitted);
  }
  const lengthOf = ({ from, to }: Stroke): number => Math.hypot(to[0] - from[0], to[1] - from[1]);
  return found.sort((a, b) => lengthOf(b) - lengthOf(a));
}

interface Vote {
  readonly cos: number;
  readonly sin: number;
  readonly offset: number;
  readonly votes: number;
}

/** The line x cos + y sin = offset that most free marks lie on. */
function strongest(
  xs: readonly number[],
  ys: readonly number[],
  free: Uint8Array,
  diagonal: number,
): Vote | null {
  const bins = Math.ceil(2 * diagonal) + 3;
  const half = bins / 2;
  let best: Vote | null = null;
  const count = new Int32Array(bins);
  // Every second mark votes where there are many: lines have thousands.
  const step = xs.length > 30_000 ? 3 : xs.length > 12_000 ? 2 : 1;
  for (let t = 0; t < TURNS; t++) {
    const angle = (Math.PI * t) / TURNS;
    const cos = Math.cos(angle);
    const sin = Math.sin(angle);
    count.fill(0);
    for (let i = 0; i < xs.length; i += step) {
      if (free[i]) count[Math.floor(xs[i] * cos + ys[i] * sin + half)]++;
    }
    for (let b = 1; b < bins - 1; b++) {
      const votes = step * (count[b - 1] + count[b] + count[b + 1]);
      if (best === null || votes > best.votes) best = { cos, sin, offset: b + 0.5 - half, votes };
    }
  }
  return best;
}

/** The longest unbroken run along a voted line, fitted by least squares; its marks are taken. Null where it is too short. */
function fittedRun(
  xs: readonly number[],
  ys: readonly number[],
  free: Uint8Array,
  { cos, sin, offset }: Vote,
  dark: Float32Array,
  width: number,
  pxPerMm: number,
): Stroke | null {
  const near = Math.max(1.5, NEAR_MM * pxPerMm);
  const own: { i: number; t: number }[] = [];
  // A degree of freedom in the direction: half a step of the vote over a long line.
  for (let i = 0; i < xs.length; i++) {
    if (free[i] && Math.abs(xs[i] * cos + ys[i] * sin - offset) < 2.2 * near)
      own.push({ i, t: -xs[i] * sin + ys[i] * cos });
  }
  own.sort((a, b) => a.t - b.t);
  const run = longestRun(own, GAP_MM * pxPerMm);
  for (const { i } of run) free[i] = 0;
  if (run.length < 8) {
    for (const { i } of own) free[i] = 0;
    return null;
  }
  let line = { cos, sin, offset };
  let used = run;
  let rms = 1;
  for (let round = 0; round < 4; round++) {
    let [w, mx, my] = [0, 0, 0];
    const weight = (i: number): number => dark[Math.floor(ys[i]) * width + Math.floor(xs[i])];
    used = run.filter(
      ({ i }) => Math.abs(xs[i] * line.cos + ys[i] * line.sin - line.offset) < (round === 0 ? 2.2 : 1) * near,
    );
    if (used.length < 8) return null;
    for (const { i } of used) {
      w += weight(i);
      mx += weight(i) * xs[i];
      my += weight(i) * ys[i];
    }
    mx /= w;
    my /= w;
    let [xx, xy, yy] = [0, 0, 0];
    for (const { i } of used) {
      xx += weight(i) * (xs[i] - mx) ** 2;
      xy += weight(i) * (xs[i] - mx) * (ys[i] - my);
      yy += weight(i) * (ys[i] - my) ** 2;
    }
    const along = Math.atan2(2 * xy, xx - yy) / 2;
    const [c, s] = [-Math.sin(along), Math.cos(along)];
    line = { cos: c, sin: s, offset: mx * c + my * s };
    rms = Math.sqrt(
      used.reduce((sum, { i }) => sum + (xs[i] * c + ys[i] * s - line.offset) ** 2, 0) / used.length,
    );
  }
  const ts = used.map(({ i }) => -xs[i] * line.sin + ys[i] * line.cos).sort((a, b) => a - b);
  const [low, high] = [ts[0], ts[ts.length - 1]];
  if (high - low < LEAST_MM * pxPerMm) return null;
  // Writing has marks near the line here and there, a line all along it.
  const cells = Math.max(1, Math.round((high - low) / (0.8 * pxPerMm)));
  const filled = new Set(ts.map((t) => Math.floor(((t - low) / (high - low + 1e-9)) * cells))).size;
  if (filled < 0.75 * cells) return null;
  const at = (t: number): Point => [
    line.cos * line.offset - t * line.sin,
    line.sin * line.offset + t * line.cos,
  ];
  const sd = (rms * Math.sqrt(12 / Math.max(4, cells))) / (high - low);
  return { from: at(low), to: at(high), sdDeg: (sd * 180) / Math.PI };
}

function longestRun<T extends { readonly t: number }>(sorted: readonly T[], gap: number): readonly T[] {
  let [from, to, longest] = [0, 0, -1];
  for (let k = 1, start = 0; k <= sorted.length; k++) {
    if (k < sorted.length && sorted[k].t - sorted[k - 1].t <= gap) continue;
    if (sorted[k - 1].t - sorted[start].t > longest) {
      longest = sorted[k - 1].t - sorted[start].t;
      [from, to] = [start, k];
    }
    start = k;
  }
  return sorted.slice(from, to);
}
