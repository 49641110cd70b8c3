import { describe, expect, it } from 'vitest';
import { parseReferenceRequest } from '../../../src/core/base/request.js';
import { referenceFromPoints } from '../../../src/core/reference/reference-from-ruler.js';
import { permittedErrorMm } from '../../../src/core/reference/ruler-class.js';

describe('permittedErrorMm', () => {
  // Directive 2014/32/EU, Annex X (MI-008), table 1, read in UK SI 2016/1153, Schedule 1I: a + b L, L in whole metres begun.
  it.each([
    ['I', 300, 0.2],
    ['I', 1000, 0.2],
    ['I', 1500, 0.3],
    ['I', 2000, 0.3],
    ['II', 300, 0.5],
    ['II', 1000, 0.5],
    ['II', 1500, 0.7],
    ['II', 2000, 0.7],
    ['III', 300, 1],
    ['III', 1000, 1],
    ['III', 1500, 1.4],
    ['III', 2000, 1.4],
  ] as const)('class %s over %d mm: %d mm', (rulerClass, lengthMm, errorMm) => {
    expect(permittedErrorMm(rulerClass, lengthMm)).toBeCloseTo(errorMm, 12);
  });
});

describe('the class that was asked for', () => {
  const sdOf = (words: Parameters<typeof parseReferenceRequest>[0]): number => {
    const request = parseReferenceRequest(words);
    if (request.kind !== 'points') throw new Error('expected points');
    // Pointed at exactly, so that the ruler's own error is all there is.
    return referenceFromPoints(request.from, request.to, request.lengthMm, request.rulerClass, 0).relativeSd;
  };

  it('sets the standard deviation of the scale: the permitted error over the root of three', () => {
    const points = '100,100,1300,100,300mm';
    for (const [rulerClass, errorMm] of [
      ['I', 0.2],
      ['II', 0.5],
      ['III', 1],
    ] as const) {
      expect(sdOf({ points, rulerClass })).toBeCloseTo(errorMm / 300 / Math.sqrt(3), 12);
    }
    expect(sdOf({ points })).toBe(sdOf({ points, rulerClass: 'ii' }));
  });

  it('is refused where no ruler gives the scale, and where there is no such class', () => {
    expect(() => parseReferenceRequest({ sheet: 'a4', rulerClass: 'I' })).toThrow(
      'rulerClass: it says nothing of a sheet',
    );
    expect(() => parseReferenceRequest({ density: '11.8', rulerClass: 'I' })).toThrow('density');
    expect(() => parseReferenceRequest({ rulerClass: 'IV' })).toThrow(
      'rulerClass: expected I, II, III, received "IV"',
    );
  });
});
