import { describe, expect, it } from 'vitest';
import { labOfColourWord } from '../../../src/core/colour/colour-names.js';
import { labFromRgb8 } from '../../../src/core/colour/lab.js';
import { rgb8FromHex } from '../../../src/core/colour/srgb.js';
import { readTruthRows } from '../../support/read-truth.js';

describe('labOfColourWord', () => {
  // CSS Color Module Level 4, section 6.1: all 148 keywords.
  const published = readTruthRows('css-color-4-named-colours.csv');

  it('gives every published keyword its published value', () => {
    expect(published).toHaveLength(148);
    for (const [keyword, hex] of published) {
      expect(labOfColourWord(keyword), keyword).toEqual(labFromRgb8(rgb8FromHex(hex)));
    }
  });

  it('takes words however they are spaced and capitalised', () => {
    const expected = labFromRgb8(rgb8FromHex('#2f4f4f'));
    for (const words of ['Dark slate grey', 'dark-slate gray', 'DARKSLATEGREY']) {
      expect(labOfColourWord(words), words).toEqual(expected);
    }
  });

  it('says so where a word is none', () => {
    expect(labOfColourWord('puce-ish')).toBeNull();
    expect(labOfColourWord('')).toBeNull();
  });
});
