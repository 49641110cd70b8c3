import { ciede2000 } from '../colour/ciede2000.js';
import type { Lab } from '../colour/lab.js';
import { median } from '../math/robust.js';
import { ALIKE, type SegmentRun, WIDTH_RATIO } from './repeat-candidates.js';
import type { Segment } from './segment.js';

interface TemplateBand {
  readonly lab: Lab;
  readonly width: number;
}

/** A segment that is nothing of the repeat (half of a split band, a smudge) costs as much as a width 1.6 times off. */
const ODD = 4;
/** A band that left no segment of its own. */
const SKIPPED = 3;
/** Odd segments in a row. */
const MOST_ODD = 3;

/**
 * Counts every segment through the repeat of n bands: entry i is band + n * repeat of segment i (runs one after another), or null
 * where it is none of them. By counting alone one missed or false edge would shift all that follow; here the
 * cheapest path is taken (dynamic programming) among those that pass over odd segments and missed bands, and across a
 * hidden stretch by its width.
 */
export function alignBands(runs: readonly SegmentRun[], n: number): readonly (number | null)[] {
  let best: Path | null = null;
  for (const stretch of stretches(runs, n)) {
    const template = templateFrom(stretch, n);
    if (template === null) continue;
    const path = cheapestPath(runs, template);
    if (best === null || path.cost < best.cost) best = path;
  }
  if (best === null) return runs.flatMap((r) => r.map(() => null));
  const again = templateOf(runs.flat(), ends(runs), best.counts, n);
  return again === null ? best.counts : cheapestPath(runs, again).counts;
}

interface Path {
  readonly counts: (number | null)[];
  readonly cost: number;
}

const ends = (runs: readonly SegmentRun[]): boolean[] =>
  runs.flatMap((r) => r.map((_, i) => i === 0 || i === r.length - 1));

/** Repeats to take the bands from at first where no stretch is free of wrong edges. */
const TRIALS = 6;

/** Whole segments in which no edge seems wrong: the longest stretch, or single repeats from all over the cloth. */
function stretches(runs: readonly SegmentRun[], n: number): SegmentRun[] {
  const best = bestStretch(runs, n);
  if (best.length >= n) return [best];
  const windows = runs.flatMap((run) =>
    run.flatMap((_, i) => (i > 0 && i + n < run.length ? [run.slice(i, i + n)] : [])),
  );
  if (windows.length === 0) return runs.filter((run) => run.length >= n);
  const step = Math.max(1, Math.floor(windows.length / TRIALS));
  return windows.filter((_, i) => i % step === 0);
}

/** The longest stretch of whole segments that all find their like n further on. */
function bestStretch(runs: readonly SegmentRun[], n: number): SegmentRun {
  let best: SegmentRun = [];
  for (const run of runs) {
    let from = 1;
    for (let i = 1; i + n < run.length; i++) {
      if (i + n - from > best.length) best = run.slice(from, i + n);
      const like = ciede2000(run[i].lab, run[i + n].lab) <= ALIKE;
      const ratio = (run[i + n].to - run[i + n].from) / (run[i].to - run[i].from);
      const cut = i + n === run.length - 1;
      if (!like || (!cut && (ratio > WIDTH_RATIO || ratio < 1 / WIDTH_RATIO))) from = i + 1;
    }
  }
  return best;
}

const templateFrom = (stretch: SegmentRun, n: number): TemplateBand[] | null =>
  templateOf(
    stretch,
    stretch.map(() => false),
    stretch.map((_, i) => i),
    n,
  );

/** Median colour and width of each band; null when a band has no segment. `cut`: no whole width. */
function templateOf(
  segments: readonly Segment[],
  cut: readonly boolean[],
  counts: readonly (number | null)[],
  n: number,
): TemplateBand[] | null {
  const template: TemplateBand[] = [];
  for (let band = 0; band < n; band++) {
    const own = segments.filter((_, i) => counts[i] !== null && mod(counts[i], n) === band);
    if (own.length === 0) return null;
    const whole = segments.filter((_, i) => !cut[i] && counts[i] !== null && mod(counts[i], n) === band);
    template.push({
      lab: [0, 1, 2].map((c) => median(own.map((s) => s.lab[c]))) as unknown as Lab,
      width: median((whole.length > 0 ? whole : own).map((s) => s.to - s.from)),
    });
  }
  return template;
}

const mod = (value: number | null, n: number): number => (((value ?? 0) % n) + n) % n;

function cheapestPath(runs: readonly SegmentRun[], template: readonly TemplateBand[]): Path {
  const n = template.length;
  const segments = runs.flat();
  const cut = ends(runs);
  const opens = runs.flatMap((r) => r.map((_, i) => i === 0 && r.length > 1));
  const closes = runs.flatMap((r) => r.map((_, i) => i === r.length - 1 && r.length > 1));
  const total = segments.length;
  const repeat = template.reduce((sum, b) => sum + b.width, 0);
  const starts = [0];
  for (const b of template) starts.push(starts[starts.length - 1] + b.width);
  const match = segments.map((s, i) => template.map((b) => matchCost(s, b, cut[i])));
  const cost = new Float64Array(total * n).fill(Infinity);
  // Where the path came from: segment and how many bands on; -1 at its start.
  const before = new Int32Array(total * n).fill(-1);
  const steps = new Int32Array(total * n);
  for (let i = 0; i < total; i++) {
    for (let b = 0; b < n; b++) {
      let least = ODD * i;
      let from = -1;
      let taken = 0;
      for (let j = Math.max(0, i - 1 - MOST_ODD); j < i; j++) {
        const odd = ODD * (i - j - 1);
        const hidden = hiddenBetween(segments, j, i);
        const plainGap = segments[i].from - segments[j].to;
        // Both ends hidden: the two may be one band that shows on either side of the ruler.
        const nearest = hidden > 0 && opens[i] && closes[j] ? 0 : 1;
        const furthest = Math.min(3, n - 1) + 1 + Math.ceil((1.3 * plainGap * n) / repeat);
        for (let step = nearest; step <= furthest; step++) {
          const a = mod(b - step, n);
          const known = cost[j * n + a];
          if (known + odd >= least) continue;
          // A cut band ends where its other edge and its width put the end.
          const end = hidden > 0 && closes[j] ? segments[j].from + template[a].width : segments[j].to;
          const start = hidden > 0 && opens[i] ? segments[i].to - template[b].width : segments[i].from;
          const gap = start - end;
          const skipped = distance(starts, repeat, a, step);
          const miss = (gap - skipped) / (2 + 0.12 * Math.max(plainGap, Math.abs(skipped)));
          const missed = hidden > 0 ? 0 : SKIPPED * Math.max(0, step - 1 - (i - j - 1));
          const trial = known + odd + missed + miss * miss;
          if (trial < least) {
            least = trial;
            from = j;
            taken = step;
          }
        }
      }
      cost[i * n + b] = least + match[i][b];
      before[i * n + b] = from;
      steps[i * n + b] = taken;
    }
  }
  return walkBack(cost, before, steps, total, n);
}

/** Columns from the end of band a to the start of the band `step` further on. */
function distance(starts: readonly number[], repeat: number, a: number, step: number): number {
  const n = starts.length - 1;
  const last = a + step;
  return starts[last % n] + repeat * Math.floor(last / n) - starts[a + 1];
}

function hiddenBetween(segments: readonly Segment[], j: number, i: number): number {
  let hidden = 0;
  for (let k = j; k < i; k++) hidden += Math.max(0, segments[k + 1].from - segments[k].to - 0.5);
  return hidden;
}

/** Squares of the misses in colour and width, each in units that stay below 1 for a true match. */
function matchCost(segment: Segment, band: TemplateBand, cut: boolean): number {
  const width = segment.to - segment.from;
  const colour = ciede2000(segment.lab, band.lab) / 5;
  const ratio = Math.log(width / band.width) / 0.25;
  // A band cut by the frame may be narrower, not wider; blur and columns make narrow ones uncertain.
  const wide = cut ? Math.max(0, ratio) : ratio * Math.min(1, band.width / 6);
  return Math.min(12, colour * colour) + Math.min(12, wide * wide);
}

function walkBack(cost: Float64Array, before: Int32Array, steps: Int32Array, total: number, n: number): Path {
  let at = -1;
  let least = Infinity;
  for (let i = 0; i < total; i++) {
    for (let b = 0; b < n; b++) {
      const whole = cost[i * n + b] + ODD * (total - 1 - i);
      if (whole < least) {
        least = whole;
        at = i * n + b;
      }
    }
  }
  const counts = new Array<number | null>(total).fill(null);
  let count = 0;
  for (let k = at; k >= 0; ) {
    counts[Math.floor(k / n)] = count;
    const j = before[k];
    count -= steps[k];
    k = j < 0 ? -1 : j * n + mod((k % n) - steps[k], n);
  }
  // So that bands are counted from the first of the template in every picture of the cloth.
  const first = counts.findIndex((c) => c !== null);
  const shift = first < 0 ? 0 : -(counts[first] ?? 0);
  return { counts: counts.map((c) => (c === null ? null : c + shift)), cost: least };
}
