import { describe, expect, it } from 'vitest';
import {
  type ChevronRequest,
  DEFAULT_CHEVRON,
  previewSeams,
} from '../../../src/core/pipeline/preview-seam.js';
import { tickingModel } from '../../support/seam/models.js';

const preview = (more: Partial<ChevronRequest>) => {
  const outcome = previewSeams(tickingModel(), { ...DEFAULT_CHEVRON, centres: ['b3'], ...more });
  if (!outcome.ok) throw new Error(outcome.refusal.found);
  return outcome.value.rows;
};
const sin = (deg: number): number => Math.sin((deg * Math.PI) / 180);

describe('sides of unequal angle', () => {
  it('agree at the marked point, and again after a repeat of difference', () => {
    const [[one]] = preview({ angles: [[60, 30]], seamMm: 800 });
    // The left side reads s sin 60, the right one s sin 30: a repeat of 52 mm apart after 52 / (sin 60 - sin 30) = 142.06 mm.
    const step = 52 / (sin(60) - sin(30));
    expect(one.agree.map((place) => place.atMm - 400)).toEqual(
      [-2, -1, 0, 1, 2].map((k) => expect.closeTo(k * step, 6)),
    );
    expect(one.agree[2].band).toBe(2);
    // The band there: 142.06 sin 60 = 123.03 mm on from the middle of b3 at 26 mm; less two repeats, 45.03: b5, 39 to 48 mm.
    expect(one.agree[3].band).toBe(4);
  });

  it('show the same colours on both sides about the places where they agree', () => {
    const [[one]] = preview({ angles: [[60, 30]], seamMm: 800 });
    for (const { atMm } of one.agree) {
      expect(one.match.unmatched.some((s) => s.fromMm < atMm - 1e-6 && s.toMm > atMm + 1e-6)).toBe(false);
    }
  });

  it('part by as much as the angles say: 45 and 40 degrees, 20 mm repeat, 50.03 mm in 500 (worked out by hand)', () => {
    // Data of the trigonometric table: 2.830 mm a repeat of 28.284 mm: 10.006 mm in 100 mm on the left.
    const [[one]] = preview({ angles: [[45, 40]] });
    expect(Math.abs(one.drift?.per100Mm ?? 0)).toBeCloseTo(50.03 / 5, 2);
  });

  it.each([20, 200, 390])('are made to agree %i mm down the seam', (agreeAtMm) => {
    const [[one]] = preview({ angles: [[45, 38]], agreeAtMm });
    expect(one.agree.map((place) => place.atMm)).toContainEqual(expect.closeTo(agreeAtMm, 6));
    // Both sides bring the same stretch of the repeat there: left x sin 45 = right x sin 38 less the slip.
    const x = agreeAtMm - 200;
    expect(x * sin(38) - one.match.request.shiftMm).toBeCloseTo(x * sin(45), 9);
  });

  it('leave the equal ones of a list as they are', () => {
    const [[equal], [unequal]] = preview({
      angles: [
        [45, 45],
        [45, 38],
      ],
      agreeAtMm: 100,
    });
    expect(equal.match.request.shiftMm).toBeCloseTo(0, 12);
    expect(equal.agree).toEqual([]);
    expect(unequal.match.request.shiftMm).not.toBe(0);
  });

  it.each<[string, Partial<ChevronRequest>, RegExp]>([
    ['off the seam', { angles: [[45, 38]], agreeAtMm: 401 }, /agreeAtMm: expected a place on the seam/],
    [
      'beside a slip',
      { angles: [[45, 38]], agreeAtMm: 10, shiftMm: 1 },
      /agreeAtMm: .*leave one of the two out/,
    ],
    ['for equal angles', { agreeAtMm: 10 }, /agreeAtMm: sides of the same angle agree all along/],
    [
      'a slip of hands that nobody has',
      { handlingMm: 21 },
      /handlingMm: expected 0 to 20 mm, received 21 mm/,
    ],
    ['a difference less than nothing', { visibleMm: -1 }, /visibleMm: expected 0 to 20 mm/],
  ])('refuse what makes no sense: %s', (_, more, message) => {
    expect(() => preview(more)).toThrow(message);
  });
});

describe('what is asked for twice', () => {
  it('is one: equal angles and equal bands, in the order given', () => {
    const rows = preview({
      angles: [
        [60, 60],
        [45, 45],
        [60, 60],
        [45, 38],
        [45, 45],
      ],
      centres: ['b3', 'b1', 'ochre', 'B1'],
    });
    expect(rows.map(([{ match }]) => [match.request.leftDeg, match.request.rightDeg])).toEqual([
      [60, 60],
      [45, 45],
      [45, 38],
    ]);
    for (const row of rows) expect(row.map(({ match }) => match.request.centre)).toEqual([2, 0]);
  });
});
