import { describe, expect, it } from 'vitest';
import { measureSummary } from '../../../src/core/report/measure-summary.js';
import { tickingModel } from '../../support/ticking-measurement.js';

describe('measureSummary', () => {
  it('says what was measured, in the unit asked for', () => {
    const mm = measureSummary(tickingModel(), 'mm');
    expect(mm).toContain('30.0 mm, give or take 0.02 mm; 4 bands, not balanced');
    expect(mm).toMatch(/^b1 +dark slate blue +12\.0 +0\.21 +11\.7 +12\.3 +2$/m);
    expect(measureSummary(tickingModel(), 'inch')).toMatch(
      /^b1 +dark slate blue +1\/2 \(0\.472\) +0\.008 +0\.461 +0\.484 +2$/m,
    );
    expect(measureSummary(tickingModel(), 'cm')).toMatch(/^b4 +antique white +1\.00 /m);
  });

  it('fits a screen of 24 lines by 80 columns whatever was found', () => {
    const model = tickingModel();
    const message =
      'A warning of some length, which has to be broken into lines so that none of its words is lost to the reader.';
    for (const count of [0, 1, 2, 3, 8]) {
      // Forty bands, side by side, as many as the repeat allows.
      const narrow = (model.repeat.across_mm as number) / 40;
      const many = Array.from({ length: 40 }, (_, k) => ({
        ...model.bands[0],
        id: `b${k + 1}`,
        start_mm: k * narrow,
        width_mm: narrow,
      }));
      for (const bands of [model.bands, many]) {
        const warnings = Array.from({ length: count }, (_, k) => ({ code: `w${k}`, message }));
        const text = measureSummary({ ...model, bands, warnings }, 'inch');
        const lines = text.split('\n');
        expect(lines.length).toBeLessThanOrEqual(22);
        expect(Math.max(...lines.map((line) => line.length))).toBeLessThanOrEqual(80);
        const told = text.split('A warning of some').length - 1;
        const left = Number(/! (\d+) more warning/.exec(text)?.[1] ?? 0);
        expect(told + left).toBe(count);
      }
    }
  });

  it('tells two colours of one name apart', () => {
    const model = tickingModel();
    const colours = model.colours.map((colour) => ({ ...colour, name: 'peru' }));
    expect(measureSummary({ ...model, colours }, 'mm')).toMatch(/A peru 40\.0 %, B peru 50\.0 %/);
  });

  it('says so when no repeat was in view', () => {
    const model = tickingModel();
    const repeat = { ...model.repeat, across_mm: null, across_sd_mm: null };
    expect(measureSummary({ ...model, repeat }, 'mm')).toContain('none in view; 4 bands, balance unknown');
  });
});
