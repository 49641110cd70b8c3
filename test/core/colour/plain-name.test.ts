import { describe, expect, it } from 'vitest';
import { ciede2000 } from '../../../src/core/colour/ciede2000.js';
import { HUE_FAMILIES } from '../../../src/core/colour/hue-words.js';
import { type Lab, labFromRgb8, linearFromLab } from '../../../src/core/colour/lab.js';
import { plainName } from '../../../src/core/colour/plain-name.js';
import { rgb8FromHex } from '../../../src/core/colour/srgb.js';
import { readTruthRows } from '../../support/read-truth.js';

const labOf = (hex: string): Lab => labFromRgb8(rgb8FromHex(hex));
const MODIFIERS =
  /\b(very|dark|light|pale|greyish|blackish|moderate|medium|strong|vivid|deep|brilliant)\b ?/g;
/** The hue without modifiers, in the words that are kept apart here. */
const hueOf = (name: string): string =>
  name
    .replace(MODIFIERS, '')
    .replace('purplish blue', 'blue')
    .replace('brownish orange', 'orange')
    .replace('brownish pink', 'yellowish pink')
    .replace('yellowish white', 'cream')
    .replace('yellowish grey', 'beige');
const GREY = /grey|black|white|cream|beige/;

describe('plainName beside the ISCC-NBS system', () => {
  // NBS Special Publication 440, all centroids but six.
  const centroids = readTruthRows('iscc-nbs-centroids.csv').map(([name, hex]) => ({ name, lab: labOf(hex) }));

  it('gives the hue of the block to most of its centroids', () => {
    expect(centroids).toHaveLength(261);
    const missed = centroids.filter(({ name, lab }) => hueOf(plainName(lab)) !== hueOf(name));
    expect(missed.length, missed.map(({ name }) => name).join(', ')).toBeLessThanOrEqual(36);
  });

  it('misses the hue of a clear colour by a neighbour at most', () => {
    const places = new Map<string, number[]>();
    for (const [k, { words }] of HUE_FAMILIES.entries()) {
      for (const { word } of words) places.set(word, [...(places.get(word) ?? []), k]);
    }
    const apart = (one: string, other: string): number =>
      Math.min(
        ...(places.get(one) ?? []).flatMap((a) =>
          (places.get(other) ?? []).map((b) => {
            const d = Math.abs(a - b);
            return Math.min(d, HUE_FAMILIES.length - d);
          }),
        ),
      );
    for (const { name, lab } of centroids) {
      const ours = plainName(lab);
      if (GREY.test(name) || GREY.test(ours)) continue;
      expect(apart(hueOf(ours), hueOf(name)), `${name} read as ${ours}`).toBeLessThanOrEqual(1);
    }
  });

  it('says dark, light and greyish where the system does', () => {
    const wrong = centroids.filter(({ name, lab }) => {
      if (hueOf(plainName(lab)) !== hueOf(name) || GREY.test(name)) return false;
      const ours = plainName(lab);
      return (
        (/\bdark\b|very deep/.test(name) && !/dark/.test(ours)) ||
        (/light|very pale/.test(name) && !/light|pale/.test(ours)) ||
        (/^(moderate|strong)/.test(name) && /dark|light|pale|greyish/.test(ours)) ||
        (/^(pale|greyish|dark greyish)/.test(name) && !/pale|greyish/.test(ours))
      );
    });
    expect(wrong.map(({ name, lab }) => `${name} read as ${plainName(lab)}`).length).toBeLessThanOrEqual(8);
  });
});

describe('plainName over the colours a screen shows', () => {
  const lch = (L: number, C: number, deg: number): Lab => [
    L,
    C * Math.cos((deg * Math.PI) / 180),
    C * Math.sin((deg * Math.PI) / 180),
  ];
  const isShown = (lab: Lab): boolean => linearFromLab(lab).every((v) => v >= -0.0005 && v <= 1.0005);
  /** One name for each degree of hue, null where no screen shows it. */
  const roundOf = (L: number, C: number): (string | null)[] =>
    Array.from({ length: 360 }, (_, deg) => (isShown(lch(L, C, deg)) ? plainName(lch(L, C, deg)) : null));
  const rounds = [12, 25, 40, 55, 70, 85, 93].flatMap((L) =>
    [3, 8, 12, 20, 32, 45, 60, 80].map((C) => ({ L, C, names: roundOf(L, C) })),
  );

  it('uses each hue word for one arc only', () => {
    for (const { L, C, names } of rounds) {
      // Below, what is a grey and what is not changes with the hue.
      if (C < 12) continue;
      const known = names.filter((name) => name !== null).map(hueOf);
      const starts = known.filter((name, k) => name !== known.at(k - 1));
      expect(new Set(starts).size, `L ${L}, C ${C}: ${starts.join(', ')}`).toBe(starts.length);
    }
  });

  it('calls no clear colour grey', () => {
    // CIELAB chroma 10, where the standard has greyish green and pale blue; unbleached cloth, yellowish, to 18.
    for (const { L, C, names } of rounds) {
      for (const [deg, name] of names.entries()) {
        const isWarm = L > 66 && deg > 55 && deg < 125;
        if (name !== null && C >= (isWarm ? 18 : 11))
          expect(name, `L ${L}, C ${C}, h ${deg}`).not.toMatch(/(grey|white|cream|beige|black)$/);
        if (name !== null && /(grey|white)$/.test(name) && deg > 150 && deg < 185 && C >= 5)
          expect(name).toMatch(/greenish/);
      }
    }
  });

  it('keeps green, blue and red where everybody sees them', () => {
    for (const { C, names } of rounds) {
      if (C < 12) continue;
      for (const [deg, name] of names.entries()) {
        if (name === null) continue;
        if (deg > 145 && deg < 190) expect(name).toMatch(/green/);
        if (deg > 245 && deg < 275) expect(name).toMatch(/blue/);
      }
    }
  });

  it('changes the word only where the colour changes', () => {
    const near: Lab = [40, 10, -30];
    expect(ciede2000(near, [40.1, 10, -30])).toBeLessThan(0.2);
    expect(plainName(near)).toBe(plainName([40.1, 10, -30]));
  });
});

describe('plainName of cloth', () => {
  // As a maker would say them. The first four are the cloths of the samples and the web's navy.
  it.each([
    ['#2b3a67', 'dark blue'],
    ['#f3ead7', 'cream'],
    ['#c48a2c', 'dark orange yellow'],
    // Ivory as a photo in the shade shows it.
    ['#e1d5bb', 'cream'],
    ['#d8cbb2', 'cream'],
    ['#bcb3a2', 'beige'],
    ['#000080', 'dark blue'],
    ['#191970', 'dark blue'],
    ['#0000ff', 'vivid blue'],
    ['#ff0000', 'vivid red'],
    ['#800000', 'dark red'],
    ['#ffffff', 'white'],
    ['#808080', 'grey'],
    ['#000000', 'black'],
    ['#d2b48c', 'light yellowish brown'],
    ['#556b2f', 'olive green'],
    ['#f9ccca', 'light pink'],
    ['#eae3e1', 'pinkish white'],
  ])('calls %s %s', (hex, name) => {
    expect(plainName(labOf(hex))).toBe(name);
  });
});
