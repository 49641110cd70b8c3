import { describe, expect, it } from 'vitest';
import { CLOTH_WORDS } from '../../../src/core/colour/cloth-words.js';
import { labFromRgb8 } from '../../../src/core/colour/lab.js';
import { rgb8FromHex } from '../../../src/core/colour/srgb.js';

describe('colour words of the cloth trade', () => {
  const labOf = new Map(CLOTH_WORDS.map(([word, srgb]) => [word, labFromRgb8(rgb8FromHex(srgb))]));
  const lab = (word: string): readonly [number, number, number] => {
    const found = labOf.get(word);
    if (found === undefined) throw new Error(`no ${word}`);
    return found;
  };
  const hueDeg = (word: string): number => {
    const [, a, b] = lab(word);
    return ((Math.atan2(b, a) * 180) / Math.PI + 360) % 360;
  };

  it('are written in one way, and each once', () => {
    expect(labOf.size).toBe(CLOTH_WORDS.length);
    for (const [word] of CLOTH_WORDS) expect(word).toMatch(/^[a-z]+([ -][a-z]+)?$/);
  });

  it('lie where their dye or their meaning puts them: hue in CIELAB, and light or dark', () => {
    // Hue angles of CIELAB: reds about 0 to 40 degrees, yellows 70 to 105, greens 120 to 200, blues 230 to 310.
    for (const word of ['madder', 'cochineal', 'brick', 'maroon', 'burgundy']) {
      expect((hueDeg(word) + 30) % 360, word).toBeLessThan(80);
    }
    for (const word of ['ochre', 'mustard', 'weld', 'saffron', 'straw', 'ecru']) {
      expect(hueDeg(word), word).toBeGreaterThan(65);
      expect(hueDeg(word), word).toBeLessThan(110);
    }
    for (const word of ['sage', 'moss', 'bottle green']) {
      expect(hueDeg(word), word).toBeGreaterThan(105);
      expect(hueDeg(word), word).toBeLessThan(200);
    }
    for (const word of ['indigo', 'woad', 'navy', 'denim', 'royal', 'ink']) {
      expect(hueDeg(word), word).toBeGreaterThan(230);
      expect(hueDeg(word), word).toBeLessThan(315);
    }
    for (const word of ['natural', 'bleached', 'ivory', 'cream', 'off-white']) {
      expect(lab(word)[0], word).toBeGreaterThan(85);
    }
    for (const word of ['navy', 'ink', 'charcoal', 'aubergine', 'chocolate', 'bottle green']) {
      expect(lab(word)[0], word).toBeLessThan(30);
    }
  });
});
