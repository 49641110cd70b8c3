import { alignBands } from './align-bands.js';
import { recoloured, withLightAcross } from './light-between-repeats.js';
import type { LightField } from './light-field.js';
import { type Lag, type RepeatCandidate, repeatCandidates, type SegmentRun } from './repeat-candidates.js';

/** A number of bands with every segment counted through it. */
export interface CountedRepeat extends RepeatCandidate {
  /** Band + n * repeat of each segment; null where it fits none. */
  readonly counts: readonly (number | null)[];
  /** Segments that fit nowhere and bands that were passed over. */
  readonly defects: number;
}

/** Share of the segments that may be defects: more is no repeat but chance. */
const MOST_DEFECTS = 0.2;
/** So many defects may be chance anywhere; more call for another length. */
const FEW = 3;
/** Lengths tried, shortest first. */
const MOST_TRIED = 14;

/**
 * The shortest repeat that holds, which may be a part of the true one, or null. Missed and false edges are defects that no other
 * length explains. A length that is no repeat (A B in A B A B A B C) leaves defects, too, but those are gone under the
 * true length: it is preferred where it leaves a quarter of them and is itself seen twice.
 */
export function shortestRepeat(
  runs: readonly SegmentRun[],
  lags: readonly Lag[],
  light: LightField,
): CountedRepeat | null {
  const total = runs.reduce((sum, run) => sum + run.length, 0);
  const tried: CountedRepeat[] = [];
  let work = 0;
  for (const candidate of repeatCandidates(runs, lags)) {
    // Multiples of one that all but holds are left to the F test.
    if (tried.some((t) => t.defects < FEW && candidate.n % t.n === 0)) continue;
    if (work++ >= MOST_TRIED) break;
    let counts = alignBands(runs, candidate.n);
    if (defectsOf(runs, counts) > 0) counts = inEvenLight(runs, candidate.n, counts, light);
    const defects = defectsOf(runs, counts);
    if (defects <= Math.max(1, MOST_DEFECTS * total)) tried.push({ ...candidate, counts, defects });
  }
  if (tried.length === 0) return null;
  let best = tried[0];
  for (const next of tried) {
    const seenTwice = total >= 2 * next.n;
    if (best.defects >= FEW && next.defects <= best.defects / 4 && seenTwice) best = next;
  }
  return best;
}

/** A strong shadow makes bands unlike themselves: counts anew with what the plain count says of the light taken out. */
function inEvenLight(
  runs: readonly SegmentRun[],
  n: number,
  counts: readonly (number | null)[],
  light: LightField,
): readonly (number | null)[] {
  const segments = runs.flat();
  const even = withLightAcross(
    light,
    segments,
    segments.map((_, i) => ({ band: i % n, repeat: Math.floor(i / n) })),
    n,
  );
  const again = alignBands(
    runs.map((run) => recoloured(run, light, even)),
    n,
  );
  return defectsOf(runs, again) < defectsOf(runs, counts) ? again : counts;
}

/** Steps over hidden cloth, from run to run, are no defects. */
export function defectsOf(runs: readonly SegmentRun[], counts: readonly (number | null)[]): number {
  let defects = 0;
  let i = 0;
  for (const run of runs) {
    let last: number | null = null;
    for (let k = 0; k < run.length; k++, i++) {
      const count = counts[i];
      if (count === null) defects++;
      else {
        if (last !== null) defects += Math.max(0, count - last - 1);
        last = count;
      }
    }
  }
  return defects;
}
