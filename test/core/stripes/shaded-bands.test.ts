import { describe, expect, it } from 'vitest';
import { bandSegments } from '../../../src/core/stripes/band-segments.js';
import type { CrossProfile } from '../../../src/core/stripes/cross-profile.js';
import { searchShadedRepeat } from '../../../src/core/stripes/repeat-search.js';
import type { Segment } from '../../../src/core/stripes/segment.js';
import { runsOn, shadedBands } from '../../../src/core/stripes/shaded-bands.js';
import { seededRandom } from '../../support/photo-painter/seeded-random.js';
import { profileOf } from '../../support/profile-of.js';

const OCHRE = [0.45, 0.25, 0.05] as const;
const INDIGO = [0.03, 0.04, 0.15] as const;
const IVORY = [0.8, 0.74, 0.6] as const;

/** Four repeats of an ochre band running towards ivory (120 columns, or level), then indigo (40), then ivory (60), with noise. */
function profile(run: number): CrossProfile {
  const random = seededRandom(5);
  return profileOf(4 * 220, (x) => {
    const at = x % 220;
    const level = (c: number) => {
      const own =
        at < 120 ? OCHRE[c] + ((run * at) / 120) * (IVORY[c] - OCHRE[c]) : at < 160 ? INDIGO[c] : IVORY[c];
      return own * (1 + 0.004 * random.gaussian());
    };
    return [level(0), level(1), level(2)];
  });
}

const THREE = [0, 1, 2, 0, 1, 2, 0, 1, 2, 0, 1, 2].map((band, i) => ({ band, repeat: Math.floor(i / 3) }));

describe('a shaded band', () => {
  it('is one band, not many, and is told as shaded', () => {
    const { segments, shaded } = bandSegments(profile(0.6));
    const whole = shaded ?? segments;
    expect(whole).toHaveLength(12);
    expect(shadedBands(profile(0.6), whole, THREE)).toEqual([0]);
  });

  it('is not seen where bands are level', () => {
    const { segments, shaded } = bandSegments(profile(0));
    expect(shaded).toBeNull();
    expect(segments).toHaveLength(12);
    expect(shadedBands(profile(0), segments, THREE)).toEqual([]);
  });

  it('runs on through a boundary that is none of its edges', () => {
    const cut = bandSegments(profile(0.6)).shaded ?? [];
    const pieces = cut.flatMap((band, i) => {
      if (i % 3 !== 0) return [band];
      const at = band.from + 30;
      return [
        { ...band, to: at },
        { ...band, from: at },
      ];
    });
    const places = pieces.map((_, i) => ({ band: i % 4, repeat: Math.floor(i / 4) }));
    expect(runsOn(profile(0.6), pieces, places, 4)).toBe(0);
    expect(runsOn(profile(0.6), cut, THREE, 3)).toBeNull();
  });

  it('is put together where every repeat has it in pieces', () => {
    const whole = bandSegments(profile(0.6)).shaded ?? [];
    const pieces = whole.flatMap((band, i) =>
      i % 3 === 0 ? piecesAt(profile(0.6), band, band.from + 14) : [band],
    );
    const finding = searchShadedRepeat(4, [pieces], profile(0.6))?.finding;
    expect(finding?.bandsPerRepeat).toBe(3);
    expect(finding?.repeatColumns).toBeCloseTo(220, 0);
  });
});

/** A band cut in two, each with its own mean colour. */
function piecesAt({ lab, linear }: CrossProfile, band: Segment, at: number): Segment[] {
  const mean = (values: ArrayLike<number>, from: number, to: number) =>
    [0, 1, 2].map((c) => {
      let sum = 0;
      for (let x = Math.round(from); x < Math.round(to); x++) sum += values[3 * x + c];
      return sum / (Math.round(to) - Math.round(from));
    }) as [number, number, number];
  return [
    [band.from, at],
    [at, band.to],
  ].map(([from, to]) => ({ from, to, lab: mean(lab, from, to), linear: mean(linear, from, to) }));
}
