import { describe, expect, it } from 'vitest';
import { bandSegments } from '../../../src/core/stripes/band-segments.js';
import type { CrossProfile } from '../../../src/core/stripes/cross-profile.js';
import { searchRepeat } from '../../../src/core/stripes/repeat-search.js';
import { seededRandom } from '../../support/photo-painter/seeded-random.js';
import { profileOf } from '../../support/profile-of.js';

const INDIGO = [0.03, 0.04, 0.15] as const;
const IVORY = [0.8, 0.74, 0.6] as const;
const OCHRE = [0.45, 0.25, 0.05] as const;
const TABLE = [0.2, 0.21, 0.22] as const;
const BOARD = [0.12, 0.1, 0.09] as const;

/** Four repeats of indigo 60, ivory 50, ochre 30 columns, then a table of two boards over as many columns as `beyond`. */
function profile(beyond: number): CrossProfile {
  const random = seededRandom(8);
  return profileOf(560 + beyond, (x) => {
    const at = x % 140;
    const cloth = at < 60 ? INDIGO : at < 110 ? IVORY : OCHRE;
    const own = x < 560 ? cloth : x < 560 + beyond / 3 ? TABLE : BOARD;
    const level = (c: number) => own[c] * (1 + 0.004 * random.gaussian());
    return [level(0), level(1), level(2)];
  });
}

describe('a repeat on the part that the cloth fills', () => {
  for (const beyond of [0, 240]) {
    it(`is found with ${beyond} columns of table beyond it`, () => {
      const cloth = profile(beyond);
      const { finding } = searchRepeat([bandSegments(cloth).segments], cloth);
      expect(finding?.bandsPerRepeat).toBe(3);
      expect(finding?.repeatColumns).toBeCloseTo(140, 0);
      const placed = finding?.runs.flatMap((run) => run.segments) ?? [];
      expect(Math.max(...placed.map((band) => band.to))).toBeLessThan(566);
    });
  }
});
