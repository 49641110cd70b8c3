import type { CrossProfile } from './cross-profile.js';
import { fittingPieces, type LaidRepeat, layBands } from './lay-repeat.js';
import type { RepeatCandidate } from './repeat-candidates.js';

/** A repeat that holds over a part of the profile, and the profile cut down to that part. */
export interface PartFit {
  readonly laid: LaidRepeat;
  readonly part: CrossProfile;
}

/** A band that does not fit weighs this many times one that does: a part may hold a stray, not a stretch of them. */
const MISFIT_WEIGHT = 2;
/** Least share of the profile a part must cover, and of the part that must fit. */
const LEAST_PART = 0.35;
const FITTING = 0.85;
const LEAST_REPEATS = 1.9;
/** A longer repeat must cover more by this much. */
const CLEARLY_MORE = 1.1;

/**
 * The repeat of a cloth that does not fill the picture: beyond its edge a table shows, or a hand covers one side, and no repeat fits the
 * whole profile. Each candidate is laid over all, then again over the stretch on which it fits best; the one wins that
 * explains most, the shortest first. Null when none explains a third.
 */
export function fitOfPart(candidates: readonly RepeatCandidate[], profile: CrossProfile): PartFit | null {
  const columnsSeen = profile.runs.reduce((s, [from, to]) => s + to - from, 0);
  let best: PartFit | null = null;
  let most = LEAST_PART;
  for (const { bands } of candidates) {
    const part = fittingPart(profile, fittingPieces(profile, bands));
    if (part === null) continue;
    const columns = part.runs.reduce((s, [from, to]) => s + to - from, 0);
    const columnsOfRepeat = bands[bands.length - 1].to - bands[0].from;
    if (columns < LEAST_PART * columnsSeen || columns < LEAST_REPEATS * columnsOfRepeat) continue;
    const laid = layBands(part, bands);
    if (laid === null || laid.score < FITTING) continue;
    const explained = (laid.score * columns) / columnsSeen;
    if (explained <= (best === null ? most : CLEARLY_MORE * most)) continue;
    best = { laid, part };
    most = explained;
  }
  return best;
}

/** Cut to the row of pieces with the largest sum of fitting columns less weighted misfitting ones (Kadane's scan). */
function fittingPart(
  profile: CrossProfile,
  pieces: readonly { readonly from: number; readonly to: number; readonly fits: boolean }[],
): CrossProfile | null {
  let best = 0;
  let from = 0;
  let to = 0;
  let sum = 0;
  let start = 0;
  for (const piece of pieces) {
    if (sum <= 0) {
      sum = 0;
      start = piece.from;
    }
    sum += (piece.to - piece.from) * (piece.fits ? 1 : -MISFIT_WEIGHT);
    if (sum > best) {
      best = sum;
      from = start;
      to = piece.to;
    }
  }
  const runs = profile.runs
    .map(([a, b]): [number, number] => [Math.max(a, Math.ceil(from)), Math.min(b, Math.floor(to))])
    .filter(([a, b]) => b - a >= 4)
    .sort((p, q) => q[1] - q[0] - (p[1] - p[0]));
  return runs.length === 0 ? null : { ...profile, runs, from: runs[0][0], to: runs[0][1] };
}
