import { type Outcome, refuse, succeed } from '../base/outcome.js';
import type { StraightCloth } from '../rectify/straight-cloth.js';
import { bandSegments, type Segment } from './band-segments.js';
import { groundProfile } from './clean-rows.js';
import { crossProfile } from './cross-profile.js';
import { recoloured, withLightAcross } from './light-between-repeats.js';
import { lightAlong } from './light-field.js';
import { lightOverCheck } from './light-over-check.js';
import { paletteOf } from './palette.js';
import type { SegmentRun } from './repeat-candidates.js';
import { correlationPeaks, placesOf, searchRepeat } from './repeat-search.js';
import { shortestRepeat } from './shortest-repeat.js';
import type { RoughEdge, RoughReading } from './stripe-reading.js';

/** Light across the stripes is told from colour only where bands come again. */
const LEAST_REPEATS_FOR_LIGHT = 1.5;

/**
 * Reads bands, colours and repeat off the straightened picture. `mixing`: 'check' when a second direction crosses, whose bands
 * mix into every column.
 *
 * Refused as 'no-stripes' when no colour steps across are found.
 */
export function readStripes(cloth: StraightCloth, mixing: 'stripe' | 'check'): Outcome<RoughReading> {
  const along = mixing === 'check' ? lightOverCheck(cloth) : lightAlong(cloth);
  const columns = crossProfile(cloth, along, mixing === 'check' ? 'mean' : 'median');
  const profile = mixing === 'check' ? columns : groundProfile(cloth, along, columns);
  if (profile.runs.length === 0) return noStripes('No cloth in view beside the ruler');
  const main = bandSegments(profile);
  if (main.segments.length < 3) return noStripes('No stripes found');
  const shortest = Math.min(...main.segments.slice(1, -1).map((s) => s.to - s.from));
  const others = profile.runs
    .slice(1)
    .filter((run) => run[1] - run[0] >= Math.max(12, 2 * shortest))
    .map((run) => bandSegments(profile, run).segments);
  let runs: readonly SegmentRun[] = [main.segments, ...others].sort((a, b) => a[0].from - b[0].from);

  let light = along;
  const lags = correlationPeaks(profile);
  const short = shortestRepeat(runs, lags, along);
  if (short && short.counts.length >= LEAST_REPEATS_FOR_LIGHT * short.n) {
    light = withLightAcross(along, runs.flat(), placesOf(short.counts, short.n), short.n);
    runs = runs.map((run) => recoloured(run, along, light));
  }
  const search = searchRepeat(runs, lags, light);
  const segments = runs.flat();
  const places = search.finding?.places ?? segments.map(() => null);
  const { palette, colours } = paletteOf(
    segments,
    places.map((p) => p?.band ?? null),
  );
  return succeed({
    segments,
    edges: edgesOf(runs),
    places,
    colours,
    palette,
    bandsPerRepeat: search.finding?.bandsPerRepeat ?? null,
    repeatColumns: search.finding?.repeatColumns ?? null,
    repeatsSeen: search.finding?.repeatsSeen ?? 0,
    confidence: search.finding?.confidence ?? 0,
    alternatives: search.alternatives,
    light,
    noise: main.noise,
  });
}

function edgesOf(runs: readonly (readonly Segment[])[]): RoughEdge[] {
  const edges: RoughEdge[] = [];
  let first = 0;
  for (const run of runs) {
    for (let i = 1; i < run.length; i++) {
      edges.push({ column: run[i].from, left: first + i - 1, right: first + i });
    }
    first += run.length;
  }
  return edges;
}

const noStripes = (found: string): Outcome<never> =>
  refuse('no-stripes', found, 'photograph striped cloth with at least two repeats in view');
