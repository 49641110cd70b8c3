import { describe, expect, it } from 'vitest';
import { CLOTH_WORDS } from '../../../src/core/colour/cloth-words.js';
import { labOfColourWord } from '../../../src/core/colour/colour-names.js';
import { labFromRgb8 } from '../../../src/core/colour/lab.js';
import { rgb8FromHex } from '../../../src/core/colour/srgb.js';
import { readTruthRows } from '../../support/read-truth.js';

describe('labOfColourWord', () => {
  // CSS Color Module Level 4, section 6.1: all 148 keywords.
  const published = readTruthRows('css-color-4-named-colours.csv');

  const cloth = new Map(CLOTH_WORDS.map(([word, srgb]) => [word.replaceAll(' ', ''), srgb]));

  it('gives every published keyword its published value, unless cloth has another', () => {
    expect(published).toHaveLength(148);
    for (const [keyword, onScreen] of published) {
      const hex = cloth.get(keyword) ?? onScreen;
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
