import { describe, expect, it } from 'vitest';
import { NO_HINTS } from '../../../src/core/base/request.js';
import { measureCloth } from '../../../src/core/pipeline/measure-cloth.js';
import { FLAT_PX_PER_MM, flatCloth } from '../../support/flat-cloth.js';

/** Indigo of two widths in turn, ivory between; `timesWide` of them. */
function warned(timesWide: number, bands: number | null = null): string[] {
  const photo = flatCloth({
    bands: [
      { colour: '#2b3a67', widthMm: 10 * timesWide },
      { colour: '#ebe2cb', widthMm: 8 * timesWide },
      { colour: '#2b3a67', widthMm: 12 * timesWide },
      { colour: '#ebe2cb', widthMm: 8 * timesWide },
    ],
    turnDeg: 3,
    seed: 5,
  });
  const request = { kind: 'density', pxPerMm: FLAT_PX_PER_MM } as const;
  const outcome = measureCloth(photo, request, { hints: { ...NO_HINTS, bands } });
  if (!outcome.ok) throw new Error(outcome.refusal.found);
  expect(outcome.value.model.bands).toHaveLength(4);
  return outcome.value.model.warnings.map(({ code }) => code);
}

describe('a repeat whose halves differ in width alone', () => {
  it('is doubted where it is seen less than three times', () => {
    expect(warned(1.6)).toContain('parts-alike');
  });

  it('is not where its bands come often enough to tell, nor where a person has counted them', () => {
    expect(warned(0.6)).not.toContain('parts-alike');
    expect(warned(1.6, 4)).not.toContain('parts-alike');
  });
});
