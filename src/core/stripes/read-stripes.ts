import { type Outcome, refuse, succeed } from '../base/outcome.js';
import type { StraightCloth } from '../rectify/straight-cloth.js';
import { type BandReading, bandSegments } from './band-segments.js';
import { groundProfile } from './clean-rows.js';
import { type CrossProfile, crossProfile } from './cross-profile.js';
import { joinFaintSteps } from './join-faint-steps.js';
import { joinRuns } from './join-runs.js';
import { sharpened } from './lay-repeat.js';
import { withLightAcross } from './light-between-repeats.js';
import { lightAlong } from './light-field.js';
import { lightOverCheck } from './light-over-check.js';
import { withoutSlips } from './out-of-phase.js';
import { paletteOf } from './palette.js';
import type { PlacedRun } from './placed-run.js';
import { type RepeatSearch, searchJoined, searchRepeat, searchShadedRepeat, TWICE } from './repeat-search.js';
import type { Segment } from './segment.js';
import { shadedBands, withShadedSides } from './shaded-bands.js';
import type { RoughEdge, RoughReading } from './stripe-reading.js';

/**
 * Reads bands, colours and repeat off the straightened picture. `mixing`: 'check' when a second direction crosses, whose bands
 * mix into every column. `bands`: how many a person says make one repeat.
 *
 * Refused as 'no-stripes' when no colour steps across are found.
 */
export function readStripes(
  cloth: StraightCloth,
  mixing: 'stripe' | 'check',
  bands: number | null = null,
): Outcome<RoughReading> {
  const light = mixing === 'check' ? lightOverCheck(cloth) : lightAlong(cloth);
  const columns = crossProfile(cloth, light, mixing);
  const profile = mixing === 'check' ? columns : groundProfile(cloth, light, columns);
  if (profile.runs.length === 0) return noStripes('No cloth in view beside the ruler');
  const main = bandSegments(profile);
  if (main.segments.length < 3) return noStripes('No stripes found');
  const shortest = Math.min(...main.segments.slice(1, -1).map((s) => s.to - s.from));
  const rest = profile.runs
    .slice(1)
    .filter(([from, to]) => to - from >= Math.max(12, 2 * shortest))
    .map((run) => bandSegments(profile, run).segments);
  const found = [main.segments, ...rest].sort((a, b) => a[0].from - b[0].from);
  const narrow = profile.runs.map((run) => bandSegments(profile, run, true));
  const joined = found.length > 1 ? [joinRuns(found)] : [];
  const rows = [...found, ...narrow.map((n) => n.segments), ...joined];
  const plain = withFaintStepsJoined(searchRepeat(rows, profile, bands), rows, profile, bands);
  const search = (mixing === 'stripe' && shadedSearch(profile, narrow, plain, bands)) || plain;
  const runs: readonly PlacedRun[] =
    search.finding?.runs ??
    sharpened(
      profile,
      found.map((segments) => ({ segments, places: segments.map(() => null) })),
    );
  const segments = runs.flatMap((r) => r.segments);
  const laid = runs.flatMap((r) => r.places);
  const places = search.finding ? withoutSlips(segments, laid) : laid;
  const shaded = mixing === 'check' ? [] : shadedBands(profile, segments, places);
  const { palette, colours } = paletteOf(
    segments,
    places.map((p) => p?.band ?? null),
  );
  return succeed({
    mixing,
    segments,
    edges: withShadedSides(profile, segments, places, edgesOf(runs), shaded),
    places,
    colours,
    palette,
    bandsPerRepeat: search.finding?.bandsPerRepeat ?? null,
    repeatColumns: search.finding?.repeatColumns ?? null,
    shaded,
    repeatsSeen: search.finding?.repeatsSeen ?? 0,
    confidence: search.finding?.confidence ?? 0,
    alternatives: search.alternatives,
    light: search.finding ? withLightAcross(light, search.finding.across) : light,
    noise: main.noise,
  });
}

/** The search, or where it found nothing that comes again one among bands without faint steps, if that finds something. */
function withFaintStepsJoined(
  fine: RepeatSearch,
  rows: readonly (readonly Segment[])[],
  profile: CrossProfile,
  bands: number | null,
): RepeatSearch {
  if (fine.finding !== null && fine.finding.repeatsSeen >= TWICE) return fine;
  const joined = rows.map(joinFaintSteps);
  if (joined.every((row, i) => row.length === rows[i].length)) return fine;
  const coarse = searchRepeat(joined, profile, bands);
  return coarse.finding !== null && coarse.finding.repeatsSeen >= TWICE ? coarse : fine;
}

/** Bands of a repeat with shaded ones among them that are tried, and how many repeats must be in view to tell shading from light. */
const MOST_SHADED = 12;
const LEAST_REPEATS = 1.5;
/** So many pieces too many may be found, and joined, where a person says how many bands there are. */
const CUT = 2;

/** Another search with shaded bands taken whole, where that makes fewer bands and they do prove shaded; else null. */
function shadedSearch(
  profile: CrossProfile,
  found: readonly BandReading[],
  plain: RepeatSearch,
  bands: number | null,
): RepeatSearch | null {
  const most = plain.finding?.bandsPerRepeat ?? Number.POSITIVE_INFINITY;
  if (found.every(({ shaded }) => shaded === null)) return null;
  const whole = found.map(({ segments, shaded }) => shaded ?? segments);
  // The fewest bands first: cut in pieces a shaded band always fits better.
  for (let n = bands ?? 2; n <= (bands === null ? Math.min(MOST_SHADED, most - 1) : bands + CUT); n++) {
    const search = searchShadedRepeat(n, whole, profile);
    if (search && provesShaded(search, profile, bands)) return search;
  }
  // Where shades were told in places only, their pieces may come again all the same.
  const joined = searchJoined(plain, profile);
  return joined && provesShaded(joined, profile, bands) ? joined : null;
}

function provesShaded({ finding }: RepeatSearch, profile: CrossProfile, bands: number | null): boolean {
  if (finding === null || finding.repeatsSeen < LEAST_REPEATS) return false;
  if (bands !== null && finding.bandsPerRepeat !== bands) return false;
  const { runs } = finding;
  const segments = runs.flatMap((run) => run.segments);
  return (
    shadedBands(
      profile,
      segments,
      runs.flatMap((run) => run.places),
    ).length > 0
  );
}

function edgesOf(runs: readonly PlacedRun[]): RoughEdge[] {
  const edges: RoughEdge[] = [];
  let first = 0;
  for (const { segments } of runs) {
    for (let i = 1; i < segments.length; i++) {
      edges.push({ column: segments[i].from, left: first + i - 1, right: first + i });
    }
    first += segments.length;
  }
  return edges;
}

const noStripes = (found: string): Outcome<never> =>
  refuse(
    'no-stripes',
    found,
    'photograph striped cloth with at least two repeats in view, or say where they are or how they run',
    ['region', 'direction'],
  );
