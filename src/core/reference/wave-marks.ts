import type { Raster } from '../raster/raster.js';
import { type Comb, combAt, combNumberAt, combPitchAt, fitMarks } from './comb-fit.js';
import { evenProfile, type SideComb } from './side-combs.js';

/** A wave's crests as a comb: each window along the edge gives one mark, the crest nearest its middle. */
export interface WaveMarks {
  readonly comb: Comb;
  readonly marks: readonly { readonly k: number; readonly x: number }[];
  readonly rms: number;
}

/** Spacings in a window, and its length at least and at most, px. */
const SPACINGS = 24;
const SHORTEST = 48;
const LONGEST = 240;
/** A window whose variation is less of the wave than this shows none. */
const LEAST_SHARE = 0.12;
/** A crest further than this from where the comb has one, in spacings, is no mark of it. */
const FITTING = 0.22;
const FEWEST = 8;

/**
 * The exact comb of a wave beside an edge: crest positions window by window, each from the wave's phase there, numbered from one window to
 * the next, with the projective law laid through them. Windows overlap by three quarters, so that no count slips.
 *
 * @param sign 1: crests are dark.
 */
export function waveMarks(luma: Raster<Uint8Array>, side: SideComb, sign: 1 | -1): WaveMarks | null {
  const { lengthPx, pitchPx, growth } = side;
  const window = Math.round(Math.max(SHORTEST, Math.min(LONGEST, lengthPx / 4, SPACINGS * pitchPx)));
  const step = Math.max(4, Math.round(window / 4));
  const profile = evenProfile(luma, side, 0, Math.floor(lengthPx), side.depthPx - 2, 5);
  let pitchAt = (s: number): number => pitchPx * (1 + growth * (s / lengthPx - 0.5));
  let found: WaveMarks | null = null;
  // A first comb tells the spacing better than the wave's own frequency did.
  for (let round = 0; round < 3; round++) {
    const crests: { x: number; share: number }[] = [];
    for (let from = 0; from + window <= profile.length; from += step) {
      crests.push(crestIn(profile, from, window, pitchAt(from + window / 2), sign));
    }
    const marks = numbered(crests, pitchAt, found?.comb ?? null);
    if (marks.length < FEWEST) return null;
    const comb = fitMarks(marks);
    const kept = marks.filter((m) => Math.abs(combNumberAt(comb, m.x) - m.k) < FITTING);
    if (kept.length < Math.max(FEWEST, 0.5 * marks.length)) return null;
    let sum = 0;
    for (const m of kept) sum += (combAt(comb, m.k) - m.x) ** 2;
    found = { comb, marks: kept, rms: Math.sqrt(sum / Math.max(1, kept.length - 3)) };
    pitchAt = (s) => Math.abs(combPitchAt(comb, combNumberAt(comb, s)));
  }
  return found;
}

/** The crest nearest a window's middle by the phase of its wave, and the wave's share of what varies there. */
function crestIn(
  profile: Float32Array,
  from: number,
  count: number,
  pitch: number,
  sign: 1 | -1,
): { x: number; share: number } {
  let re = 0;
  let im = 0;
  let all = 0;
  let weights = 0;
  const middle = count / 2;
  for (let i = 0; i < count; i++) {
    const weight = 0.5 - 0.5 * Math.cos((2 * Math.PI * (i + 0.5)) / count);
    const v = -sign * profile[from + i] * weight;
    const angle = (2 * Math.PI * (i + 0.5 - middle)) / pitch;
    re += v * Math.cos(angle);
    im += v * Math.sin(angle);
    all += v * v;
    weights += weight * weight;
  }
  // Profile samples stand at whole px of s.
  const x = from + middle - 0.5 + (Math.atan2(im, re) / (2 * Math.PI)) * pitch;
  return { x, share: (2 * (re * re + im * im)) / (weights * Math.max(1e-9, all)) };
}

/** Crests with their numbers, from the strongest window both ways; with a comb, those that fit it. */
function numbered(
  crests: readonly { readonly x: number; readonly share: number }[],
  pitchAt: (s: number) => number,
  comb: Comb | null,
): { k: number; x: number }[] {
  const clear = crests.filter((c) => c.share > LEAST_SHARE);
  if (comb !== null) {
    return clear
      .map(({ x }) => ({ k: Math.round(combNumberAt(comb, x)), x, off: combNumberAt(comb, x) }))
      .filter(({ k, off }) => Math.abs(off - k) < FITTING)
      .map(({ k, x }) => ({ k, x }));
  }
  if (clear.length === 0) return [];
  const start = clear.reduce((best, c, i) => (c.share > clear[best].share ? i : best), 0);
  const out: { k: number; x: number }[] = [{ k: 0, x: clear[start].x }];
  for (const way of [1, -1]) {
    let last = out[0];
    for (let i = start + way; i >= 0 && i < clear.length; i += way) {
      const { x } = clear[i];
      const steps = (x - last.x) / pitchAt((x + last.x) / 2);
      const whole = Math.round(steps);
      if (Math.abs(steps - whole) > 0.3) continue;
      last = { k: last.k + whole, x };
      out.push(last);
    }
  }
  return out.sort((p, q) => p.k - q.k);
}
