import { describe, expect, it } from 'vitest';
import { fillLumaAlong, fillLumaWhole, lumaOf, partialLuma } from '../../../src/core/raster/luminance.js';
import { raster } from '../../../src/core/raster/raster.js';
import { seededRandom } from '../../support/photo-painter/seeded-random.js';

const random = seededRandom(5);
const [width, height] = [61, 47];
const picture = raster(
  width,
  height,
  3,
  Uint8Array.from({ length: width * height * 3 }, () => random.between(1, 256)),
);

describe('lumaOf', () => {
  it('weighs channels as Rec. ITU-R BT.709 does, to a level', () => {
    const luma = lumaOf(picture).data;
    for (let i = 0; i < luma.length; i++) {
      const [r, g, b] = picture.data.subarray(3 * i, 3 * i + 3);
      expect(Math.abs(luma[i] - (0.2126 * r + 0.7152 * g + 0.0722 * b))).toBeLessThanOrEqual(1);
    }
  });
});

describe('fillLumaAlong', () => {
  const whole = lumaOf(picture).data;

  it('fills all within reach of each line with the luma of the whole picture, and nothing with another', () => {
    for (let round = 0; round < 60; round++) {
      const part = partialLuma(picture);
      const lines = Array.from({ length: 1 + (round % 3) }, () => ({
        from: [random.between(-20, 80), random.between(-20, 60)] as const,
        to: [random.between(-20, 80), random.between(-20, 60)] as const,
        reach: random.between(1, 9),
      }));
      for (const { from, to, reach } of lines) fillLumaAlong(part, ...from, ...to, reach);
      for (let y = 0; y < height; y++) {
        for (let x = 0; x < width; x++) {
          const value = part.luma.data[y * width + x];
          const near = lines.some((l) => distance([x + 0.5, y + 0.5], l.from, l.to) <= l.reach);
          if (near || value !== 0) expect(value).toBe(whole[y * width + x]);
        }
      }
    }
  });

  it('leaves most of the picture alone', () => {
    const part = partialLuma(picture);
    fillLumaAlong(part, 0, 0, width, 0, 3);
    expect(part.luma.data.subarray(6 * width).every((v) => v === 0)).toBe(true);
  });

  it('is finished by fillLumaWhole', () => {
    const part = partialLuma(picture);
    fillLumaAlong(part, 10, 5, 30, 40, 2);
    fillLumaWhole(part);
    expect(part.luma.data).toEqual(whole);
  });
});

function distance(p: readonly number[], a: readonly number[], b: readonly number[]): number {
  const [dx, dy] = [b[0] - a[0], b[1] - a[1]];
  const t = Math.max(
    0,
    Math.min(1, ((p[0] - a[0]) * dx + (p[1] - a[1]) * dy) / Math.max(1e-12, dx * dx + dy * dy)),
  );
  return Math.hypot(p[0] - a[0] - t * dx, p[1] - a[1] - t * dy);
}
