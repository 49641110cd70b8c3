import { describe, expect, it } from 'vitest';
import {
  formatLength,
  formatLengthNumber,
  formatSmall,
  parseLengthMm,
} from '../../../src/core/base/length.js';
import { UsageError } from '../../../src/core/base/outcome.js';

describe('parseLengthMm', () => {
  // The inch is 25.4 mm exactly (addendum to NBS Circular 572, 1960).
  it.each([
    ['300mm', 300],
    ['30 cm', 300],
    ['0.5m', 500],
    ['12in', 304.8],
    ['12"', 304.8],
    ['12″', 304.8],
    ['1 inch', 25.4],
    ['11 13/16in', 300.0375],
    ['11-13/16 in', 300.0375],
    ['13/16 in', 20.6375],
    ['.5 in', 12.7],
    ['12 INCHES', 304.8],
  ])('reads %s as %f mm', (text, mm) => {
    expect(parseLengthMm(text, 'points')).toBeCloseTo(mm, 10);
  });

  it.each(['', '300', 'mm', '0mm', '-3mm', '3,5cm', '1/0in', '12 ft', '1e3mm', '3 mm mm'])(
    'refuses "%s"',
    (text) => {
      expect(() => parseLengthMm(text, 'seam')).toThrow(UsageError);
      expect(() => parseLengthMm(text, 'seam')).toThrow(/^seam: .*received/);
    },
  );
});

describe('formatLength', () => {
  it('reads inches as a tape does: sixteenths in lowest terms', () => {
    for (let k = 1; k <= 64; k++) {
      const text = formatLength((k * 25.4) / 16, 'inch');
      expect(text).not.toContain('(');
      expect(parseLengthMm(text, 'law')).toBeCloseTo((k * 25.4) / 16, 10);
      expect(text).not.toMatch(/[2468]\/\d/);
    }
  });

  it('is never out by more than half its last place', () => {
    for (let mm = 2; mm < 400; mm += 1.37) {
      expect(Math.abs(parseLengthMm(formatLength(mm, 'mm'), 'law') - mm)).toBeLessThanOrEqual(0.05 + 1e-9);
      expect(Math.abs(parseLengthMm(formatLength(mm, 'cm'), 'law') - mm)).toBeLessThanOrEqual(0.05 + 1e-9);
      const [, fraction, decimals] = /^(.*? in)(?: \((.*)\))?$/.exec(
        formatLength(mm, 'inch'),
      ) as RegExpExecArray;
      expect(Math.abs(parseLengthMm(fraction, 'law') - mm)).toBeLessThanOrEqual(25.4 / 32 + 1e-9);
      const shown = decimals ? parseLengthMm(`${decimals}in`, 'law') : parseLengthMm(fraction, 'law');
      expect(Math.abs(shown - mm)).toBeLessThanOrEqual(0.05 + 1e-9);
    }
  });

  it('adds decimals where the nearest sixteenth is further off than the length is unsure', () => {
    // 65.9 mm is 2.5945 in; 2 5/8 in is 66.675 mm, 0.775 mm more.
    expect(formatLength(65.9, 'inch')).toBe('2 5/8 in (2.594)');
    expect(formatLengthNumber(65.9, 'inch')).toBe('2 5/8 (2.594)');
    expect(formatLength(65.9, 'inch', 0.77)).toBe('2 5/8 in (2.594)');
    expect(formatLength(65.9, 'inch', 0.78)).toBe('2 5/8 in');
    expect(formatLength(65.9, 'inch', null)).toBe('2 5/8 in (2.594)');
    expect(formatLength(12.74, 'inch')).toBe('1/2 in');
    expect(formatLength(12.76, 'inch')).toBe('1/2 in (0.502)');
    expect(formatLength(65.9, 'mm', 0.01)).toBe('65.9 mm');
  });

  it('does not call a thin band nothing', () => {
    expect(formatLength(0.4, 'inch')).toBe('under 1/16 in (0.016)');
    expect(formatLength(0, 'inch')).toBe('0 in');
  });

  it('writes no minus before nought', () => {
    expect(formatLength(-0.01, 'mm')).toBe('0.0 mm');
    expect(formatSmall(0.0254, 'inch')).toBe('0.001 in');
  });
});
