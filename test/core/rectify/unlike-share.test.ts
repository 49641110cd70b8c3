import { describe, expect, it } from 'vitest';
import { raster } from '../../../src/core/raster/raster.js';
import type { StraightCloth } from '../../../src/core/rectify/straight-cloth.js';
import { unlikeShare } from '../../../src/core/rectify/unlike-share.js';

const [INDIGO, IVORY, OCHRE, MADDER] = [
  [42, 58, 99],
  [235, 226, 203],
  [189, 135, 56],
  [140, 58, 44],
];

function painted(width: number, height: number, colourAt: (x: number, y: number) => number[]): StraightCloth {
  const data = new Uint8Array(3 * width * height);
  for (let y = 0; y < height; y++)
    for (let x = 0; x < width; x++) data.set(colourAt(x, y), 3 * (y * width + x));
  return {
    picture: raster(width, height, 3, data),
    cloth: new Uint8Array(width * height).fill(1),
    mmPerColumn: 0.2,
    mmPerRow: 0.2,
    uFromMm: 0,
    vFromMm: 0,
  };
}

describe('unlikeShare', () => {
  const bandAt = (x: number) => (x % 80 < 30 ? INDIGO : x % 80 < 55 ? IVORY : OCHRE);
  const withBars = (x: number, y: number) => (x % 40 < 30 && y % 40 < 10 ? MADDER : bandAt(x));

  it('is none of bare stripes, and all but the widest band of them looked at the other way', () => {
    expect(unlikeShare(painted(800, 800, bandAt))).toBe(0);
    expect(unlikeShare(painted(800, 800, (_, y) => bandAt(y)))).toBeCloseTo(1 - 30 / 80, 1);
  });

  it('is what bars across cover of the stripes, and more down the bars', () => {
    // A quarter of the rows, three quarters of their length.
    expect(unlikeShare(painted(800, 800, withBars))).toBeCloseTo(3 / 16, 1);
    expect(unlikeShare(painted(800, 800, (x, y) => withBars(y, x)))).toBeGreaterThan(0.45);
  });

  it('leaves out what is no cloth', () => {
    const cloth = painted(400, 400, withBars);
    for (let y = 0; y < 400; y++) for (let x = 0; x < 400; x++) if (y % 40 < 10) cloth.cloth[400 * y + x] = 0;
    expect(unlikeShare(cloth)).toBe(0);
  });
});
