import sharp from 'sharp';
import { describe, expect, it } from 'vitest';
import { linearFromByte, rgb8FromHex } from '../../../src/core/colour/srgb.js';
import { paintSwatch, type Swatch, swatchOf, swatchSvg } from '../../../src/core/render/swatch.js';
import { tickingModel } from '../../support/ticking-measurement.js';

const swatchFor = (scale: number): Swatch => {
  const model = tickingModel();
  const bands = model.bands.map((band) => ({
    ...band,
    start_mm: band.start_mm * scale,
    width_mm: band.width_mm * scale,
  }));
  return swatchOf({ ...model, bands, repeat: { ...model.repeat, across_mm: 30 * scale } })!;
};

describe('paintSwatch', () => {
  it.each([0.07, 0.31, 1, 1.2345, 9.7, 40])(
    'is one repeat wide to the pixel at %f times the size',
    (scale) => {
      const { picture, pxPerMm } = paintSwatch(swatchFor(scale));
      expect(picture.width / pxPerMm).toBeCloseTo(30 * scale, 9);
      expect(Math.max(picture.width, picture.height)).toBeLessThanOrEqual(4000);
    },
  );

  it('keeps each colour to its true area, in linear light', () => {
    for (const scale of [0.07, 1.2345]) {
      const { picture } = paintSwatch(swatchFor(scale));
      for (let c = 0; c < 3; c++) {
        let sum = 0;
        for (let x = 0; x < picture.width; x++) sum += linearFromByte[picture.data[3 * x + c]];
        const truth = tickingModel().colours.reduce(
          (mean, colour) => mean + colour.share * linearFromByte[rgb8FromHex(colour.srgb)[c]],
          0,
        );
        // 8-bit rounding of the few mixed pixels at edges.
        expect(sum / picture.width).toBeCloseTo(truth, 2.5);
      }
    }
  });

  it('is the same down every column of stripes', () => {
    const { picture } = paintSwatch(swatchFor(1));
    const row = 3 * picture.width;
    expect(picture.data.subarray(0, row)).toEqual(picture.data.subarray(row * (picture.height - 1)));
  });

  it('mixes the two directions of a check half and half', () => {
    const model = tickingModel();
    const { repeat, bands, instances } = model;
    const swatch = swatchOf({ ...model, check: { repeat, bands, instances } })!;
    const { picture } = paintSwatch(swatch);
    expect([swatch.heightMm, picture.height]).toEqual([30, picture.width]);
    const at = (u: number, v: number, c: number): number => {
      const x = Math.floor((u / 30) * picture.width);
      const y = Math.floor((1 - v / 30) * picture.height);
      return linearFromByte[picture.data[3 * (y * picture.width + x) + c]];
    };
    const linear = (hex: string, c: number) => linearFromByte[rgb8FromHex(hex)[c]];
    for (let c = 0; c < 3; c++) {
      expect(at(6, 6, c)).toBeCloseTo(linear('#2a3a63', c), 2);
      expect(at(6, 18.5, c)).toBeCloseTo((linear('#2a3a63', c) + linear('#bd8738', c)) / 2, 2);
      expect(at(18.5, 6, c)).toBeCloseTo((linear('#2a3a63', c) + linear('#bd8738', c)) / 2, 2);
    }
  });

  it('is nothing when no repeat is known', () => {
    const model = tickingModel();
    expect(swatchOf({ ...model, repeat: { ...model.repeat, across_mm: null } })).toBeNull();
  });
});

describe('swatchSvg', () => {
  it('is drawn by another renderer as the raster is painted', async () => {
    const model = tickingModel();
    const { repeat, bands, instances } = model;
    for (const swatch of [swatchFor(1), swatchOf({ ...model, check: { repeat, bands, instances } })!]) {
      const svg = swatchSvg(swatch);
      expect(svg).toContain('width="30mm" height="30mm" viewBox="0 0 30 30"');
      const { picture } = paintSwatch(swatch);
      const drawn = await sharp(Buffer.from(svg))
        .resize(picture.width, picture.height, { fit: 'fill' })
        .removeAlpha()
        .raw()
        .toBuffer();
      let far = 0;
      drawn.forEach((value, i) => {
        if (Math.abs(value - picture.data[i]) > 3) far++;
      });
      // Only the pixels that an edge runs through may differ: the other renderer mixes encoded values.
      expect(far / drawn.length).toBeLessThan(0.06);
    }
  });
});
