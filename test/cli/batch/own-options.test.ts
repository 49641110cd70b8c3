import { describe, expect, it } from 'vitest';
import { optionsOf, typedOptions } from '../../../src/cli/batch/own-options.js';
import { parseReferenceRequest } from '../../../src/index.js';

const POINTS = '1,2,300,4,11 13/16in';

describe('options of one photo among many', () => {
  it.each<[string, Record<string, string>, Record<string, string> | null, object]>([
    ['are those of all where it has none', { units: 'cm', bands: '4' }, null, { units: 'cm', bands: '4' }],
    ['go over those of all', { units: 'cm', bands: '4' }, { bands: '6' }, { units: 'cm', bands: '6' }],
    [
      'take the place of all that gives the scale',
      { units: 'mm', ruler: 'inch', rulerClass: 'I' },
      { points: POINTS },
      { units: 'mm', points: POINTS },
    ],
    [
      'give the corners of the sheet of all',
      { units: 'mm', sheet: 'a4' },
      { corners: '0,0,9,0,9,9,0,9' },
      { units: 'mm', sheet: 'a4', corners: '0,0,9,0,9,9,0,9' },
    ],
  ])('%s', (_, all, own, expected) => {
    const options = optionsOf(all, own);
    expect(options).toEqual(expected);
    expect(() => parseReferenceRequest(options)).not.toThrow();
  });

  it('are told as they would be typed', () => {
    expect(typedOptions({ rulerClass: 'I', points: POINTS })).toBe(`--ruler-class I --points "${POINTS}"`);
  });
});
