import { normalCdf } from '../math/folded-normal.js';

export interface StepFit {
  /** Place of the step in samples (0 = middle of the first sample). */
  readonly at: number;
  /** Its standard deviation from the fit's own residuals, in samples. */
  readonly sd: number;
  readonly low: number;
  readonly high: number;
  readonly rss: number;
}

/** Another step near the one that is fitted: how far from it in samples, and its height as a part of that one's. */
export interface NextStep {
  readonly at: number;
  readonly height: number;
}

/** The search ends when a step is below this, samples: far below what noise leaves open. */
const CLOSE = 1e-3;
const ROOT_2PI = Math.sqrt(2 * Math.PI);

/**
 * Least-squares fit of a blurred step low + (high - low) * Phi((x - at) / blur) to evenly spaced samples x = 0, 1, 2 ... The
 * levels are solved for exactly at each trial place (variable projection, Golub and Pereyra 1973,
 * doi 10.1137/0710036), the place by Gauss-Newton from `start`. Steps `beside` it, of known height and distance, move with it: where
 * a band is hardly wider than the blur, its other edge bends the level that this one rises to. Null when it runs off or stays flat.
 */
export function fitStep(
  samples: ArrayLike<number>,
  from: number,
  to: number,
  start: number,
  blur: number,
  beside: readonly NextStep[] = [],
): StepFit | null {
  let at = start;
  let low = 0;
  let high = 0;
  let rss = Infinity;
  const n = to - from;
  if (n < 5) return null;
  for (let round = 0; round < 12; round++) {
    let sp = 0;
    let spp = 0;
    let sf = 0;
    let spf = 0;
    for (let i = from; i < to; i++) {
      const p = riseAt(i - at, blur, beside);
      const f = samples[i];
      sp += p;
      spp += p * p;
      sf += f;
      spf += p * f;
    }
    const det = n * spp - sp * sp;
    if (det < 1e-9) return null;
    const height = (n * spf - sp * sf) / det;
    low = (sf - height * sp) / n;
    high = low + height;
    if (height === 0) return null;
    // d(model)/d(at) = -height * phi / blur
    let dd = 0;
    let dr = 0;
    let sd = 0;
    let spd = 0;
    rss = 0;
    for (let i = from; i < to; i++) {
      const p = riseAt(i - at, blur, beside);
      const r = samples[i] - low - height * p;
      const d = -height * slopeAt(i - at, blur, beside);
      dd += d * d;
      dr += d * r;
      sd += d;
      spd += p * d;
      rss += r * r;
    }
    // What the levels would take up of a move is no part of it (the residuals are square to them already).
    dd -= (spp * sd * sd - 2 * sp * sd * spd + n * spd * spd) / det;
    if (dd < 1e-12) return null;
    const step = dr / dd;
    const limited = Math.max(-2 * blur, Math.min(2 * blur, step));
    at += limited;
    if (at < from || at > to - 1) return null;
    if (Math.abs(limited) < CLOSE) {
      const variance = rss / Math.max(1, n - 3);
      return { at, sd: Math.sqrt(variance / dd), low, high, rss };
    }
  }
  return null;
}

/** Of a step of height 1 at 0 and those beside it, blurred alike: how high it stands at x, and how steep. */
function riseAt(x: number, blur: number, beside: readonly NextStep[]): number {
  let rise = normalCdf(x / blur);
  for (let k = 0; k < beside.length; k++) rise += beside[k].height * normalCdf((x - beside[k].at) / blur);
  return rise;
}

function slopeAt(x: number, blur: number, beside: readonly NextStep[]): number {
  let slope = bell(x / blur);
  for (let k = 0; k < beside.length; k++) slope += beside[k].height * bell((x - beside[k].at) / blur);
  return slope / blur;
}

const bell = (z: number): number => Math.exp(-0.5 * z * z) / ROOT_2PI;
