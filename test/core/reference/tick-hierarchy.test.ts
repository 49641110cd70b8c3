import { describe, expect, it } from 'vitest';
import { readHierarchy } from '../../../src/core/reference/tick-hierarchy.js';
import { seededRandom } from '../../support/photo-painter/seeded-random.js';

const random = seededRandom(21);
const ticks = (count: number, lengthOf: (k: number) => number, noise = 1.5) =>
  Array.from({ length: count }, (_, k) => ({ k, lengthPx: lengthOf(k) + random.between(-noise, noise) }));
const mod = (k: number, m: number) => ((k % m) + m) % m;

// Metric: centimetre mark longest, 5 mm medium, 1 mm short (common practice).
const metric = (phase: number) => (k: number) => {
  const r = mod(k - phase, 10);
  return r === 0 ? 44 : r === 5 ? 33 : 22;
};
// Inch: 1, 1/2, 1/4, 1/8, 1/16 each shorter (US federal item description A-A-355B: a length for each).
const inch = (perInch: number, phase: number) => (k: number) => {
  const r = mod(k - phase, perInch);
  let length = 18;
  for (let step = 2; step <= perInch && r % step === 0; step *= 2) length += 8;
  return length;
};

describe('readHierarchy', () => {
  it.each(Array.from({ length: 10 }, (_, phase) => phase))('reads millimetres at phase %d', (phase) => {
    const found = readHierarchy(ticks(47, metric(phase)));
    expect(found).toMatchObject({ unit: 'mm', pitchMm: 1, phase, period: 10 });
    expect([phase, phase + 5, phase + 1].map((k) => found!.rankOf(k))).toEqual([2, 1, 0]);
  });

  it.each([
    [8, 3.175],
    [16, 1.5875],
    [32, 0.79375],
  ])('reads inches in parts of 1/%d: pitch %d mm', (perInch, pitchMm) => {
    for (const phase of [0, 3, perInch - 1]) {
      expect(readHierarchy(ticks(perInch * 4 + 5, inch(perInch, phase)))).toMatchObject({
        unit: 'inch',
        pitchMm,
        phase,
        period: perInch,
      });
    }
  });

  it('reads half millimetres as such, not as a millimetre rule of twice the length', () => {
    const half = (k: number) => (k % 20 === 0 ? 44 : k % 10 === 0 ? 34 : k % 2 === 0 ? 26 : 16);
    expect(readHierarchy(ticks(90, half))).toMatchObject({ unit: 'mm', pitchMm: 0.5 });
  });

  it('takes marks as long as a tenth of an inch for tenths, much longer ones for millimetres, others for neither', () => {
    const inPitches = (finest: number) => {
      const pitchPx = 24;
      return readHierarchy(
        ticks(64, (k) => (k % 10 === 0 ? 2 : k % 5 === 0 ? 1.5 : 1) * finest * pitchPx),
        { pitchPx },
      );
    };
    // 2.6 mm long on an inch rule of tenths, and on a millimetre rule.
    expect(inPitches(2.6 / 2.54)).toMatchObject({ unit: 'inch', pitchMm: 2.54 });
    expect(inPitches(2.6)).toMatchObject({ unit: 'mm', pitchMm: 1 });
    expect(inPitches(1.28)).toBeNull();
  });

  it('does not take sixteenths for thirty-seconds because of the numerals at every other inch', () => {
    const numerals = (k: number) => inch(16, 3)(k) + (k % 32 === 19 ? 3 : 0);
    expect(readHierarchy(ticks(100, numerals, 1), { pitchPx: 15 })).toMatchObject({ pitchMm: 25.4 / 16 });
  });

  it('does not take eighths for sixteenths where numerals happen to touch more of every other inch mark', () => {
    const inches = [59, 99, 66, 66, 59, 67, 59, 59, 67, 67, 60, 60];
    const lengths = ticks(
      95,
      (k) => (k % 8 === 0 ? inches[k / 8] : k % 4 === 0 ? 41 : k % 2 === 0 ? 29 : 20),
      0.4,
    );
    expect(readHierarchy(lengths, { pitchPx: 23 })).toMatchObject({ pitchMm: 25.4 / 8 });
  });

  it('is sure of eighths though every inch mark runs on, each as far as its numeral lets it', () => {
    const inches = [92, 92, 91, 104, 89, 82, 82, 92, 92, 81, 81, 81];
    // From the middle of the second inch on.
    const lengths = Array.from({ length: 92 }, (_, i) => {
      const k = i + 12;
      return {
        k,
        lengthPx: k % 8 === 0 ? inches[(k / 8) % 12] : k % 4 === 0 ? 57 : k % 2 === 0 ? 40 : 28,
      };
    });
    // By so much a scale must lead other scales, and patterns that no ruler has, to be believed.
    expect(readHierarchy(lengths, { pitchPx: 32 })!.lead).toBeGreaterThan(10);
  });

  it('reads sixteenths although three of the five inch marks are worn or run into something', () => {
    const worn = ticks(81, inch(16, 0), 1).map((t) =>
      t.k === 16
        ? { ...t, lengthPx: 30 }
        : t.k === 64
          ? { ...t, lengthPx: 19 }
          : t.k === 48
            ? { ...t, lengthPx: 90 }
            : t,
    );
    expect(readHierarchy(worn, { pitchPx: 12 })).toMatchObject({ unit: 'inch', pitchMm: 25.4 / 16 });
  });

  describe('where more than half of the inch marks are worn to about the length of the halves', () => {
    const pitchPx = 16;
    const lengths = [31, 44, 62, 84];
    const worn = [112, 80, 83, 113, 112, 53, 113, 84, 28];
    /** Lengths in px, all times `px`; marks that are an inch's are worn, one after the other. */
    const withInches = (isInch: (k: number) => boolean, px = 1) => {
      const left = [...worn];
      return ticks(
        136,
        (k) => {
          if (isInch(k)) return px * (left.shift() ?? 84);
          const rank = k % 8 === 0 ? 3 : k % 4 === 0 ? 2 : k % 2 === 0 ? 1 : 0;
          return px * lengths[rank];
        },
        0.5,
      );
    };

    it('reads sixteenths: as eighths its shortest marks would be longer than any rule’s', () => {
      const found = readHierarchy(
        withInches((k) => k % 16 === 8),
        { pitchPx },
      );
      expect(found).toMatchObject({ unit: 'inch', pitchMm: 25.4 / 16, phase: 8 });
      expect(found!.lead).toBeGreaterThan(7);
    });

    it('reads nothing where long ones stand at other places as well', () => {
      expect(
        readHierarchy(
          withInches((k) => k % 24 === 8 || k % 48 === 16),
          { pitchPx },
        ),
      ).toBeNull();
    });

    it('reads eighths of ordinary marks all the same, whatever numerals do to every other inch', () => {
      const found = readHierarchy(
        withInches((k) => k % 16 === 8, 0.5),
        { pitchPx },
      );
      expect(found).toMatchObject({ unit: 'inch', pitchMm: 25.4 / 8 });
    });
  });

  it('is sure of thirty-seconds whose inch marks differ by more than all others do', () => {
    // As read off a steel rule under a gradient of light: each rank to a px, but for the inches.
    const inches = [137, 113, 130, 137, 134, 137, 58];
    const byRank = [32, 46, 62, 83, 107];
    const lengthOf = (k: number): number => {
      if (k % 32 === 0) return inches[k / 32];
      return byRank[
        [16, 8, 4, 2, 1].map((step) => k % step === 0).reduce((rank, is) => rank + (is ? 1 : 0), -1)
      ];
    };
    const found = readHierarchy(ticks(215, lengthOf, 0.5), { pitchPx: 10 });
    expect(found).toMatchObject({ unit: 'inch', period: 32, phase: 0 });
    expect(found!.lead).toBeGreaterThan(7);
  });

  it('does not take halves and inches of thirty-seconds together for the inches of sixteenths', () => {
    // As read off a worn rule: the two longest ranks run into each other.
    const longest = [35, 57, 37, 66, 42, 73, 46, 58, 47, 70, 49, 61, 37, 69, 50, 59, 42, 57, 52, 55, 53];
    const byRank = [17, 24, 34, 45];
    const lengthOf = (k: number): number => {
      if (k % 16 === 0) return longest[k / 16];
      return byRank[[8, 4, 2, 1].map((step) => k % step === 0).reduce((rank, is) => rank + (is ? 1 : 0), -1)];
    };
    const found = readHierarchy(ticks(329, lengthOf, 1), { pitchPx: 5.6 });
    expect(found === null || found.lead < 7).toBe(true);
  });

  it('is surer of a scale than of any pattern that no ruler has, and of no such pattern', () => {
    expect(readHierarchy(ticks(90, metric(3)))!.lead).toBeGreaterThan(20);
    for (const period of [7, 9, 12]) {
      const other = (k: number) => 20 + (k % period === 0 ? 22 : k % period === period >> 1 ? 11 : 0);
      const found = readHierarchy(ticks(90, other));
      expect(found === null || found.lead < 7).toBe(true);
    }
  });

  it('is not moved by a few numerals that run into their ticks', () => {
    const lengths = ticks(80, metric(4)).map((t, i) => (i % 27 === 13 ? { ...t, lengthPx: 90 } : t));
    expect(readHierarchy(lengths)).toMatchObject({ unit: 'mm', phase: 4 });
  });

  it.each([
    ['even stripes', () => 30],
    [
      'two lengths in turn: centimetre and half-centimetre ticks whose millimetres are lost',
      (k: number) => 20 + 15 * (k % 2),
    ],
    ['three lengths in turn', (k: number) => 20 + 10 * (k % 3)],
  ])('reads no unit from %s', (_, lengthOf) => {
    expect(readHierarchy(ticks(80, lengthOf))).toBeNull();
  });

  it('holds to the unit it is told', () => {
    expect(readHierarchy(ticks(64, metric(2)), { only: 'inch' })).toBeNull();
    expect(readHierarchy(ticks(64, metric(2)), { only: 'mm' })).toMatchObject({ unit: 'mm' });
  });
});
