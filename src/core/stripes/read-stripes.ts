import { type Outcome, refuse, succeed } from '../base/outcome.js';
import { bandSegments, type Segment } from './band-segments.js';
import { groundProfile } from './clean-rows.js';
import { crossProfile } from './cross-profile.js';
import { lightAlong } from './light-field.js';
import { paletteOf } from './palette.js';
import { searchRepeat } from './repeat-search.js';
import type { StraightCloth } from './straight-cloth.js';
import type { BandPlace, RoughEdge, RoughReading } from './stripe-reading.js';

/**
 * Reads bands, colours and repeat off the straightened picture. `mixing`: 'check' when a second direction crosses, whose bands
 * mix into every column.
 *
 * Refused as 'no-stripes' when no colour steps across are found.
 */
export function readStripes(cloth: StraightCloth, mixing: 'stripe' | 'check'): Outcome<RoughReading> {
  const light = lightAlong(cloth);
  const columns = crossProfile(cloth, light, mixing === 'check' ? 'mean' : 'median');
  const profile = mixing === 'check' ? columns : groundProfile(cloth, light, columns);
  if (profile.runs.length === 0) return noStripes('No cloth in view beside the ruler');
  const main = bandSegments(profile);
  if (main.segments.length < 3) return noStripes('No stripes found');
  const search = searchRepeat(main.segments, profile);
  const runs: { segments: readonly Segment[]; places: readonly (BandPlace | null)[] }[] = [
    { segments: main.segments, places: search.finding?.places ?? main.segments.map(() => null) },
  ];
  const shortest = Math.min(...main.segments.slice(1, -1).map((s) => s.to - s.from));
  for (const run of profile.runs.slice(1)) {
    if (run[1] - run[0] < Math.max(12, 2 * shortest)) continue;
    const { segments } = bandSegments(profile, run);
    runs.push({ segments, places: segments.map(() => null) });
  }
  runs.sort((a, b) => a.segments[0].from - b.segments[0].from);
  const segments = runs.flatMap((r) => r.segments);
  const places = runs.flatMap((r) => r.places);
  const edges: RoughEdge[] = [];
  let first = 0;
  for (const run of runs) {
    for (let i = 1; i < run.segments.length; i++) {
      edges.push({ column: run.segments[i].from, left: first + i - 1, right: first + i });
    }
    first += run.segments.length;
  }
  const { palette, colours } = paletteOf(
    segments,
    places.map((p) => p?.band ?? null),
  );
  return succeed({
    segments,
    edges,
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

const noStripes = (found: string): Outcome<never> =>
  refuse('no-stripes', found, 'photograph striped cloth with at least two repeats in view');
