import { describe, expect, it } from 'vitest';
import { linearFromByte } from '../../../src/core/colour/srgb.js';
import { plainScene, stripes } from '../../support/painted-scene.js';
import { paintPhoto } from '../../support/photo-painter/paint-photo.js';
import type { ClothBorder, ForeignObject, Scene } from '../../support/photo-painter/scene.js';

/** 80 by 60 mm of one grey, 5 px a mm, seen straight from above. */
const grey = (change: Partial<Scene> = {}, borders: readonly ClothBorder[] = []): Scene =>
  plainScene({
    cloth: { ...stripes([]), ground: { kind: 'plain', colour: '#808080', mottle: 0 }, borders },
    ...change,
  });

const RED = 0;

function linearSum(scene: Scene): number {
  const { data } = paintPhoto(scene).picture;
  let sum = 0;
  for (let i = RED; i < data.length; i += 3) sum += linearFromByte[data[i]];
  return sum;
}

describe('what lies on the cloth', () => {
  it('covers the area that its outline encloses', () => {
    const limb: ForeignObject = {
      parts: [
        {
          kind: 'limb',
          from: [-12, -8],
          to: [14, 9],
          radiusFromMm: 6,
          radiusToMm: 6,
          colour: '#000000',
          mottle: 0,
        },
      ],
      shadowMm: 0.001,
    };
    const bare = linearSum(grey());
    const covered = linearSum(grey({ objects: [limb] }));
    // Black hides its share of the light: a box of the limb's length and a disc, in mm.
    const areaMm2 = 2 * 6 * Math.hypot(26, 17) + Math.PI * 36;
    // Rounding to 8 bits along the rim leaves some tenths of a percent.
    expect(((1 - covered / bare) * 80 * 60) / areaMm2).toBeCloseTo(1, 2);
  });

  it('lets a ring be seen through', () => {
    const ring: ForeignObject = {
      parts: [{ kind: 'ring', centre: [0, 0], radiusMm: 15, thicknessMm: 4, colour: '#000000', mottle: 0 }],
      shadowMm: 0.001,
    };
    const hidden = 1 - linearSum(grey({ objects: [ring] })) / linearSum(grey());
    expect(Math.abs((hidden * 80 * 60) / (2 * Math.PI * 15 * 4) - 1)).toBeLessThan(0.01);
  });
});

describe('the end of the cloth', () => {
  const border = (change: Partial<ClothBorder> = {}): ClothBorder => ({
    normalDeg: 0,
    atMm: 20,
    tableColour: '#000000',
    mottle: 0,
    selvage: null,
    ...change,
  });

  it('shows the table beyond its border only', () => {
    const shown = linearSum(grey({}, [border()])) / linearSum(grey());
    expect(shown).toBeCloseTo(60 / 80, 3);
  });

  it('has a selvage of its own width', () => {
    const selvage = { widthMm: 7, colour: '#000000' };
    const shown = linearSum(grey({}, [border({ selvage })])) / linearSum(grey());
    expect(shown).toBeCloseTo(53 / 80, 3);
  });

  it('cuts the instances that the truth lists', () => {
    const striped = stripes([
      { colour: '#2a3a63', widthMm: 7 },
      { colour: '#ebe2cb', widthMm: 5 },
    ]);
    const tall = { ...plainScene().camera, heightPx: 500 };
    const whole = paintPhoto(plainScene({ cloth: striped, camera: tall })).truth;
    const cut = paintPhoto(plainScene({ cloth: { ...striped, borders: [border()] }, camera: tall })).truth;
    expect(whole.instances.length).toBeGreaterThan(cut.instances.length);
    // Bands whose middle lies beyond 20 mm: from 24 on.
    expect(Math.max(...cut.instances.map(({ repeat, band }) => repeat * 12 + band * 7))).toBeLessThan(20);
  });

  it('tells the skew of stripes that meet a selvage, as ASTM D3882 counts it', () => {
    const skewOf = (normalDeg: number) =>
      paintPhoto(
        plainScene({
          cloth: {
            ...plainScene().cloth,
            borders: [border({ normalDeg, selvage: { widthMm: 5, colour: '#ffffff' } })],
          },
        }),
      ).truth.skew_percent;
    // 2 % is 1.146 degrees.
    expect(skewOf(90 + 1.146)).toBeCloseTo(2, 3);
    expect(skewOf(270 - 0.573)).toBeCloseTo(1, 3);
    expect(skewOf(0.2)).toBe(0);
  });
});

it('shades a band evenly in linear light from one colour to the other', () => {
  const bands = [
    { colour: '#202020', widthMm: 30, shadeTo: '#e0e0e0' },
    { colour: '#505050', widthMm: 10 },
  ];
  const { picture, truth } = paintPhoto(plainScene({ cloth: stripes(bands) }));
  const [dark, light] = [linearFromByte[0x20], linearFromByte[0xe0]];
  // u = 0 is at x = 200; 5 px a mm.
  for (const part of [0.1, 0.25, 0.5, 0.75, 0.9]) {
    const x = 200 + Math.round(part * 30 * 5);
    const level = linearFromByte[picture.data[(150 * picture.width + x) * 3]];
    const expected = dark + (light - dark) * ((x + 0.5 - 200) / 150);
    expect(Math.abs(level - expected)).toBeLessThan(0.006);
  }
  expect(truth.bands[0].shades_to_srgb_hex).toBe('#e0e0e0');
  // One band of this cloth has no mirror image in it.
  expect(truth.balanced).toBe(false);
  expect(truth.colour_share).toEqual({});
});
