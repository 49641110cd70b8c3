import { describe, expect, it } from 'vitest';
import { nearestNamedColour } from '../../../src/core/colour/colour-names.js';
import { labFromRgb8 } from '../../../src/core/colour/lab.js';
import { rgb8FromHex } from '../../../src/core/colour/srgb.js';
import { readTruthRows } from '../../support/read-truth.js';

describe('nearestNamedColour', () => {
  // CSS Color Module Level 4, section 6.1: all 148 keywords.
  const published = readTruthRows('css-color-4-named-colours.csv');

  it('gives every published value a published name of that very value', () => {
    expect(published).toHaveLength(148);
    const hexOf = new Map(published.map(([keyword, hex]) => [keyword, hex]));
    for (const [keyword, hex] of published) {
      const named = nearestNamedColour(labFromRgb8(rgb8FromHex(hex)));
      expect(named.difference, keyword).toBe(0);
      expect(hexOf.get(named.keyword), keyword).toBe(hex);
      expect(named.words.replaceAll(' ', '')).toBe(named.keyword);
    }
  });

  it.each([
    ['#00ffff', 'cyan'],
    ['#ff00ff', 'magenta'],
    ['#808080', 'grey'],
    ['#2f4f4f', 'darkslategrey'],
  ])('names %s, which has two keywords, %s', (hex, keyword) => {
    expect(nearestNamedColour(labFromRgb8(rgb8FromHex(hex))).keyword).toBe(keyword);
  });

  it('names a colour between the references by the nearest', () => {
    const named = nearestNamedColour(labFromRgb8([24, 26, 110]));
    expect(named.words).toBe('midnight blue');
    expect(named.difference).toBeGreaterThan(0);
    expect(named.difference).toBeLessThan(3);
  });
});
