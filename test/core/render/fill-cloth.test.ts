import { describe, expect, it } from 'vitest';
import { raster } from '../../../src/core/raster/raster.js';
import { fillCloth } from '../../../src/core/render/fill-cloth.js';
import { seededRandom } from '../../support/photo-painter/seeded-random.js';

const SIZE = 60;

/** 1 px a mm; holes have alpha 254. */
function textureOf(red: (x: number, y: number) => number, hole: (x: number, y: number) => boolean) {
  const data = new Uint8Array(4 * SIZE * SIZE);
  for (let y = 0; y < SIZE; y++) {
    for (let x = 0; x < SIZE; x++) data.set([red(x, y), 7, 9, hole(x, y) ? 254 : 255], 4 * (y * SIZE + x));
  }
  return { picture: raster(SIZE, SIZE, 4, data), pxPerMm: 1, leftUMm: 0, topVMm: SIZE };
}

const reds = (picture: { data: Uint8Array }): number[] => [...picture.data].filter((_, i) => i % 4 === 0);

describe('filling what is not cloth', () => {
  const stripes = (x: number): number => (x % 12 < 5 ? 200 : 40);

  it('leaves whole cloth as it is', () => {
    const whole = textureOf(
      (x, y) => (x * 7 + y * 3) % 256,
      () => false,
    );
    expect(fillCloth(whole, null).picture.data).toEqual(whole.picture.data);
  });

  it('restores stripes under a ruler laid anyhow and beyond a slanting border', () => {
    const covered = (x: number, y: number): boolean => Math.abs(x - y + 5) < 8 || x + y > 95;
    const filled = fillCloth(
      textureOf((x, y) => (covered(x, y) ? 255 : stripes(x)), covered),
      null,
    );
    expect(reds(filled.picture)).toEqual(Array.from({ length: SIZE * SIZE }, (_, i) => stripes(i % SIZE)));
  });

  it('reflects along the stripe, so that nothing steps', () => {
    const slope = (_: number, y: number): number => 2 * y;
    const filled = reds(
      fillCloth(
        textureOf(slope, (_, y) => y < 20),
        null,
      ).picture,
    );
    for (let y = 1; y < SIZE; y++)
      expect(Math.abs(filled[y * SIZE] - filled[(y - 1) * SIZE])).toBeLessThanOrEqual(2);
  });

  it('copies printed cloth from whole repeats away, drop and all', () => {
    // Across 12 with a drop of 4 upwards, along 10; v grows upwards, rows downwards.
    const random = seededRandom(9);
    const cell = Array.from({ length: 120 }, () => Math.floor(random.uniform() * 255));
    const print = (x: number, y: number): number => {
      const turns = Math.floor(x / 12);
      const v = (((SIZE - 1 - y - 4 * turns) % 10) + 10) % 10;
      return cell[(x % 12) * 10 + v];
    };
    const covered = (x: number, y: number): boolean => Math.hypot(x - 30, y - 25) < 14 || y > 50;
    const filled = fillCloth(
      textureOf((x, y) => (covered(x, y) ? 0 : print(x, y)), covered),
      { across: 12, along: 10, drop: 4 },
    );
    const wanted = Array.from({ length: SIZE * SIZE }, (_, i) => print(i % SIZE, Math.floor(i / SIZE)));
    expect(reds(filled.picture)).toEqual(wanted);
  });

  it('shows grey where there is nothing to take', () => {
    const filled = fillCloth(
      textureOf(
        () => 10,
        (x) => x < 20,
      ),
      null,
    );
    expect(reds(filled.picture)[0]).toBe(235);
    expect(reds(filled.picture)[59]).toBe(10);
  });
});
