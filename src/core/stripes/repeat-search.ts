import { autocorrelation } from '../math/autocorrelation.js';
import type { CrossProfile } from './cross-profile.js';
import { fitOfPart } from './fitting-part.js';
import { type LaidRepeat, layBands, layJoined, layLonger, partOfItself, type Shading } from './lay-repeat.js';
import type { LightAcross } from './light-between-repeats.js';
import { timesLonger, timesShorter } from './longer-repeat.js';
import type { PlacedRun } from './placed-run.js';
import { type RepeatCandidate, repeatCandidates } from './repeat-candidates.js';
import type { Segment } from './segment.js';
import { runsOn } from './shaded-bands.js';

export interface RepeatFinding {
  readonly bandsPerRepeat: number;
  /** At the middle of the picture, columns. */
  readonly repeatColumns: number;
  readonly repeatsSeen: number;
  /** 0..1. */
  readonly confidence: number;
  /** In order of growing column; colours as under the light of the picture's middle. */
  readonly runs: readonly PlacedRun[];
  readonly across: LightAcross;
}

export interface RepeatSearch {
  readonly finding: RepeatFinding | null;
  /** Where the finding comes from; null with it. */
  readonly laid: LaidRepeat | null;
  /** Other lengths that came close, best first; columns. */
  readonly alternatives: readonly { readonly repeatColumns: number; readonly confidence: number }[];
}

/** Share of the profile and of its bands that must fit a repeat. */
const FITTING = 0.85;
/** A longer candidate must fit better by this much. */
const CLEARLY_BETTER = 0.03;
/** Two candidates are as long as each other within this: perspective stretches them. */
const SAME_LENGTH = 0.15;
/** A fit as good as this needs no second look. */
const WELL = 0.95;
/** A repeat seen less often than this has no second to compare with. */
export const TWICE = 1.9;
/** Steps of dynamic programming spent on candidates. */
const MOST_STEPS = 6e7;

/**
 * Finds how many bands make one repeat, and every band's place in it.
 *
 * Candidates are stretches of bands that come again next to themselves. Each is laid over the whole profile as a template, and
 * the shortest that fits is tested against its multiples: a multiple always fits better, and is taken only where the gain
 * in colour or width is beyond what the scatter between its own repeats explains (F test; A B A C with B close to C).
 * Widths may stretch smoothly across the picture (perspective) and light drift.
 *
 * @param readings Bands of each run of the profile, as the partition has them; runs may be given again as another partition has them.
 * @param bands How many bands a person says one repeat has: taken where a reading with so many fits, else left aside.
 */
export function searchRepeat(
  readings: readonly (readonly Segment[])[],
  profile: CrossProfile,
  bands: number | null = null,
): RepeatSearch {
  const candidates = repeatCandidates(readings);
  const given = bands === null ? null : fitOfBands(candidates, profile, bands);
  const whole = given ? null : bestFit(candidates, profile);
  const onWhole = whole && severalTimes(whole, profile);
  const chosen =
    given ?? (onWhole && isSure(onWhole) ? onWhole : betterOf(onWhole, partOf(candidates, profile)));
  return told(chosen, profile);
}

/** The same for a repeat of so many bands, shaded ones among them, of which pieces of one may be joined; null when none fits. */
export function searchShadedRepeat(
  bands: number,
  readings: readonly (readonly Segment[])[],
  profile: CrossProfile,
): RepeatSearch | null {
  const laid = fitOfBands(repeatCandidates(readings), profile, bands, 'shaded');
  return laid && told(joinedWhereRunOn(laid, profile), profile);
}

/** The search with the pieces of shaded bands joined, where every repeat was read in such; else null. */
export function searchJoined({ laid }: RepeatSearch, profile: CrossProfile): RepeatSearch | null {
  const joined = laid && joinedWhereRunOn(laid, partUnder(laid, profile));
  return joined === null || joined === laid ? null : told(joined, profile);
}

/** The part of the profile over which a repeat was laid. */
function partUnder({ runs }: LaidRepeat, profile: CrossProfile): CrossProfile {
  const extents = runs
    .map(({ segments }): [number, number] => [
      Math.round(segments[0].from),
      Math.round(segments[segments.length - 1].to),
    ])
    .sort((p, q) => q[1] - q[0] - (p[1] - p[0]));
  return { ...profile, runs: extents, from: extents[0][0], to: extents[0][1] };
}

/** Without the boundaries at which one shaded band was cut in two in every repeat. */
function joinedWhereRunOn(laid: LaidRepeat, profile: CrossProfile): LaidRepeat {
  const { runs, template, score } = laid;
  const band =
    template.length > 2
      ? runsOn(
          profile,
          runs.flatMap(({ segments }) => segments),
          runs.flatMap(({ places }) => places),
          template.length,
        )
      : null;
  const joined = band === null ? null : layJoined(profile, laid, band);
  return joined !== null && joined.score > score - CLEARLY_BETTER ? joinedWhereRunOn(joined, profile) : laid;
}

function told(chosen: LaidRepeat | null, profile: CrossProfile): RepeatSearch {
  const lags = correlationPeaks(profile);
  if (chosen === null) return { finding: null, laid: null, alternatives: lags.slice(0, 3) };
  const finding = describe(chosen, lags);
  const near = (a: number, b: number) => Math.abs(a / b - 1) < 0.04;
  const alternatives: { repeatColumns: number; confidence: number }[] = [];
  for (const lag of lags) {
    if (near(lag.repeatColumns, finding.repeatColumns)) continue;
    if (alternatives.some((b) => near(lag.repeatColumns, b.repeatColumns))) continue;
    alternatives.push({ ...lag, confidence: lag.confidence * (1 - finding.confidence) });
  }
  return { finding, laid: chosen, alternatives: alternatives.slice(0, 3) };
}

/** The shortest repeat that fits; of several readings of its bands the one that leaves least unexplained. */
function bestFit(
  candidates: readonly RepeatCandidate[],
  profile: CrossProfile,
  shading: Shading = 'even',
): LaidRepeat | null {
  const columnsSeen = profile.runs.reduce((s, [from, to]) => s + to - from, 0);
  let best: LaidRepeat | null = null;
  let steps = 0;
  for (const { bands } of candidates) {
    const columns = bands[bands.length - 1].to - bands[0].from;
    const ratio: number = best === null ? 0 : columns / lengthOf(best);
    const sameLength = Math.abs(ratio - 1) < SAME_LENGTH;
    if (best !== null && !sameLength) {
      // What does not come again explains anything once: no reason to leave what does.
      if (columnsSeen < TWICE * columns && timesSeen(best) >= TWICE) continue;
      if (best.score > 1 - CLEARLY_BETTER) continue;
    }
    steps += columnsSeen * (1.25 * columns + bands.length);
    if (steps > MOST_STEPS && best !== null) break;
    const laid = layBands(profile, bands, shading);
    if (laid === null || laid.score < FITTING) continue;
    // More bands leave less unexplained where only some repeats show them, as print at a corner of the view does: they must fit the rest, too.
    const better: boolean =
      best === null ||
      (sameLength
        ? laid.misfit < best.misfit && laid.score > best.score - CLEARLY_BETTER
        : laid.score > best.score + CLEARLY_BETTER && isOwnLength(laid, best));
    if (better) best = laid;
  }
  return best;
}

/** The best fit with so many bands a repeat: as it stands, or several of a shorter repeat taken together. */
function fitOfBands(
  candidates: readonly RepeatCandidate[],
  profile: CrossProfile,
  bands: number,
  shading: Shading = 'even',
): LaidRepeat | null {
  for (let n = bands; n >= 2; n--) {
    if (bands % n !== 0) continue;
    const fit = bestFit(
      candidates.filter((candidate) => candidate.bands.length === n),
      profile,
      shading,
    );
    const laid = fit && n < bands ? layLonger(profile, fit, bands / n) : fit;
    if (laid !== null) return laid;
  }
  return null;
}

/** Seen hardly more than once it may be all there is in view, cloth and table together; a poor fit may be so because of a hand. */
const isSure = (whole: LaidRepeat): boolean => timesSeen(whole) >= TWICE && whole.score >= WELL;

function betterOf(whole: LaidRepeat | null, part: LaidRepeat | null): LaidRepeat | null {
  if (whole === null || part === null) return whole ?? part;
  // What lies over the cloth can hide that a repeat is longer, not that it is shorter.
  const longer = lengthOf(part) > (1 + SAME_LENGTH) * lengthOf(whole);
  if (!isOwnLength(part, whole)) return whole;
  // A fold or a deep shadow may hide that what was laid over the whole is several of a shorter one.
  if (timesSeen(part) >= TWICE && !isOwnLength(whole, part)) return part;
  const poorer = timesSeen(whole) < TWICE || (longer && whole.score + CLEARLY_BETTER < part.score);
  return poorer ? part : whole;
}

/** Not so many of a shorter repeat. A multiple fits better whatever lies over the cloth: its own bands must tell it. */
function isOwnLength(longer: LaidRepeat, shorter: LaidRepeat): boolean {
  const times = longer.template.length / shorter.template.length;
  return !(times > 1 && Number.isInteger(times)) || timesLonger(partOfItself(longer, times)) === times;
}

/** The repeat as many times as long, or as short, as its instances tell. */
function severalTimes(laid: LaidRepeat, profile: CrossProfile): LaidRepeat {
  const short = partOfItself(laid, timesShorter(laid));
  const times = timesLonger(short);
  return times > 1 ? (layLonger(profile, short, times) ?? short) : short;
}

function partOf(candidates: readonly RepeatCandidate[], profile: CrossProfile): LaidRepeat | null {
  const found = fitOfPart(candidates, profile);
  return found && severalTimes(found.laid, found.part);
}

const timesSeen = ({ template, runs }: Pick<LaidRepeat, 'template' | 'runs'>): number => {
  const extent = runs.map(({ segments }) => segments[segments.length - 1].to - segments[0].from);
  return extent.reduce((s, e) => s + e, 0) / lengthOf({ template });
};

const lengthOf = ({ template }: Pick<LaidRepeat, 'template'>): number =>
  template.reduce((s, b) => s + b.columns, 0);

function describe(
  { template, runs, across, score }: LaidRepeat,
  lags: readonly { readonly repeatColumns: number; readonly confidence: number }[],
): RepeatFinding {
  const repeatColumns = lengthOf({ template });
  const repeatsSeen = timesSeen({ template, runs });
  const correlated = lags.some((l) => Math.abs(l.repeatColumns / repeatColumns - 1) < 0.08);
  const seen = repeatsSeen >= 3 ? 0.99 : repeatsSeen >= 2 ? 0.95 : 0.25 + 0.35 * Math.max(0, repeatsSeen - 1);
  return {
    bandsPerRepeat: template.length,
    repeatColumns,
    repeatsSeen,
    confidence: seen * score * (correlated || repeatsSeen < 2 ? 1 : 0.9),
    runs,
    across,
  };
}

/** Peaks of the profile's autocorrelation: lag in columns, and the correlation as a first confidence. */
function correlationPeaks({ lab, from, to }: CrossProfile): { repeatColumns: number; confidence: number }[] {
  const n = to - from;
  const step = Math.max(1, Math.ceil(n / 1024));
  const count = Math.floor(n / step);
  if (count < 16) return [];
  const channels = [0, 1, 2].map((c) =>
    Float64Array.from({ length: count }, (_, i) => lab[3 * (from + i * step) + c]),
  );
  const r = autocorrelation(channels);
  const peaks: { repeatColumns: number; confidence: number }[] = [];
  for (let lag = 2; lag < count - 1; lag++) {
    if (r[lag] < 0.3 || r[lag] < r[lag - 1] || r[lag] <= r[lag + 1]) continue;
    const bend = r[lag - 1] - 2 * r[lag] + r[lag + 1];
    const shift = bend < 0 ? (0.5 * (r[lag - 1] - r[lag + 1])) / bend : 0;
    peaks.push({ repeatColumns: (lag + shift) * step, confidence: Math.min(1, r[lag]) });
  }
  return peaks.sort((p, q) => q.confidence - p.confidence).slice(0, 12);
}
