import type { Raster } from '../raster/raster.js';
import { sampleBilinear } from '../raster/sample.js';
import { type CombFit, combAt, combNumberAt, combPitchAt } from './comb-fit.js';
import { pointOnTick, type TickLine } from './tick-strip.js';

/** Marks between the marks of a comb, and the depths at which nothing else is seen. */
export interface FinerMarks {
  /** Of them to one of the comb's. */
  readonly parts: number;
  readonly depthFrom: number;
  readonly depthTo: number;
}

/** Parts that a centimetre, an inch or half of either is divided into. */
const PARTS = [4, 5, 8, 10, 16, 20];
/** Places in one spacing of the comb: twice as many as the finest of its waves has ups and downs. */
const BINS = 64;
const WAVES = 24;
const COSINES = Float64Array.from({ length: BINS }, (_, b) => Math.cos((2 * Math.PI * b) / BINS));
/** Depths are searched this many spacings to either side. */
const REACH = 2.6;
/** Faint marks are no further from the mean round about than this, levels of luma. */
const MOST_OFF = 50;
/** Levels of luma, and how many times as strong as any other wave. */
const FAINTEST = 0.35;
const ALONE = 2.5;

/**
 * Blurred and noisy marks that no peak shows: only the long ones of a scale stand out, and give a comb. All its spacings laid over one
 * another, depth by depth, leave the marks between as one wave of so many ups and downs, however faint, where those are
 * alone: marks of a scale are level at their feet, so that near them every one is there and all are alike. Null where no depths
 * show such a wave.
 */
export function finerMarks(luma: Raster<Uint8Array>, line: TickLine, fit: CombFit): FinerMarks | null {
  const first = fit.marks[0].k;
  const last = fit.marks[fit.marks.length - 1].k;
  const pitch = Math.abs(combPitchAt(fit.comb, (first + last) / 2));
  const step = Math.max(1, pitch / 60);
  const count = Math.floor((REACH * pitch) / step);
  const waves = new Float64Array(WAVES + 1);
  let best = null as FinerMarks | null;
  let run = null as FinerMarks | null;
  for (let n = -count; n <= count; n++) {
    wavesAt(luma, line, fit, first, last, n * step, waves);
    const parts = aloneIn(waves);
    if (parts !== 0 && run?.parts === parts) run = { ...run, depthTo: n * step };
    else run = parts === 0 ? null : { parts, depthFrom: n * step, depthTo: n * step };
    if (run === null || run.depthTo - run.depthFrom < 2.5 * step) continue;
    const more = best === null || run.parts > best.parts;
    const longer = best?.parts === run.parts && run.depthTo - run.depthFrom > best.depthTo - best.depthFrom;
    if (more || longer) best = run;
  }
  return best;
}

/** The parts whose wave stands alone, or 0. */
function aloneIn(waves: Float64Array): number {
  for (const parts of PARTS) {
    let other = 0;
    for (let m = 2; m <= WAVES; m++) if (m % parts !== 0) other = Math.max(other, waves[m]);
    if (waves[parts] > FAINTEST && waves[parts] > ALONE * other) return parts;
  }
  return 0;
}

/** Amplitudes of the waves in one spacing, at one depth, as the mean over all spacings has them. */
function wavesAt(
  { data, width, height }: Raster<Uint8Array>,
  line: TickLine,
  { comb }: CombFit,
  first: number,
  last: number,
  d: number,
  waves: Float64Array,
): void {
  const sums = new Float64Array(BINS);
  const counts = new Float64Array(BINS);
  const from = Math.ceil(Math.min(combAt(comb, first), combAt(comb, last)));
  const to = Math.floor(Math.max(combAt(comb, first), combAt(comb, last)));
  const half = Math.round(Math.abs(combPitchAt(comb, (first + last) / 2)) / 2);
  // What is in place s, and the sum of all before it: a spacing's mean holds none of its waves.
  const values = new Float32Array(to - from + 1 + 2 * half);
  const before = new Float64Array(values.length + 1);
  for (let i = 0; i < values.length; i++) {
    const [x, y] = pointOnTick(line, from - half + i, d);
    values[i] = sampleBilinear(data, width, height, x, y);
    before[i + 1] = before[i] + values[i];
  }
  for (let i = half; i < values.length - half; i++) {
    const off = values[i] - (before[i + half] - before[i - half]) / (2 * half);
    // A stripe that begins or ends under a clear rule.
    if (Math.abs(off) > MOST_OFF) continue;
    const k = combNumberAt(comb, from - half + i);
    const bin = Math.floor((k - Math.floor(k)) * BINS);
    sums[bin] += off;
    counts[bin]++;
  }
  for (let b = 0; b < BINS; b++) sums[b] /= Math.max(1, counts[b]);
  for (let m = 1; m <= WAVES; m++) {
    let cos = 0;
    let sin = 0;
    for (let b = 0; b < BINS; b++) {
      cos += sums[b] * COSINES[(m * b) % BINS];
      sin += sums[b] * COSINES[(m * b + BINS / 4) % BINS];
    }
    waves[m] = (2 * Math.hypot(cos, sin)) / BINS;
  }
}
