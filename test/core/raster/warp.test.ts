import { describe, expect, it } from 'vitest';
import type { Point } from '../../../src/core/math/matrix3.js';
import { raster } from '../../../src/core/raster/raster.js';
import { warp } from '../../../src/core/raster/warp.js';
import { seededRandom } from '../../support/photo-painter/seeded-random.js';

/** Encoded level of a ticking of `repeatPx`, drawn by exact coverage. */
function ticking(width: number, height: number, repeatPx: number) {
  const dark = (x: number): number => Math.floor(x / repeatPx) * 0.5 + Math.min((x / repeatPx) % 1, 0.5);
  const data = new Uint8Array(width * height);
  for (let x = 0; x < width; x++) {
    const share = (dark(x + 1) - dark(x)) * repeatPx;
    for (let y = 0; y < height; y++) data[y * width + x] = 220 - 160 * share;
  }
  return raster(width, height, 1, data);
}

describe('warp', () => {
  it('leaves a picture as it is under the map that moves nothing', () => {
    const random = seededRandom(2);
    const source = raster(
      37,
      23,
      4,
      Uint8Array.from({ length: 37 * 23 * 4 }, () => 256 * random.uniform()),
    );
    const { picture, inside } = warp(source, (p) => p, 37, 23);
    expect(picture).toEqual(source);
    expect(inside.every((v) => v === 1)).toBe(true);
  });

  it('moves by whole pixels and tells what lies outside', () => {
    const source = ticking(40, 10, 8);
    const { picture, inside } = warp(source, ([x, y]) => [x + 5, y - 2], 40, 10);
    for (let y = 2; y < 10; y++) {
      for (let x = 0; x < 34; x++) expect(picture.data[y * 40 + x]).toBe(source.data[(y - 2) * 40 + x + 5]);
    }
    const expected = Array.from(inside, (_, i) => (Math.floor(i / 40) >= 2 && i % 40 < 35 ? 1 : 0));
    expect(Array.from(inside)).toEqual(expected);
  });

  it.each([1.6, 2.3, 3.7, 5, 9.1])('keeps edges in their place when shrinking by %d', (shrink) => {
    const source = ticking(1820, 40, 182);
    const width = Math.floor(1820 / shrink);
    const { picture } = warp(source, ([x, y]) => [x * shrink, y * shrink], width, 4);
    const crossings: number[] = [];
    for (let x = 1; x < width; x++) {
      const [before, after] = [picture.data[width + x - 1], picture.data[width + x]];
      if (before >= 140 !== after >= 140) crossings.push(x - 0.5 + (before - 140) / (before - after));
    }
    expect(crossings).toHaveLength(19);
    // Straight lines between pixels are themselves up to 0.1 px off on a blurred step.
    crossings.forEach((x, k) => {
      expect(Math.abs(x - (91 * (k + 1)) / shrink)).toBeLessThan(0.12);
    });
    const mean = crossings.reduce((sum, x, k) => sum + x - (91 * (k + 1)) / shrink, 0) / 19;
    expect(Math.abs(mean)).toBeLessThan(0.03);
  });

  it('does not let fine ticking beat', () => {
    // Repeat 3 px, shrunk by 7.3: what is left is the mean, 220 - 80 = 140, and a tenth of the contrast.
    const source = ticking(2190, 60, 3);
    const { picture } = warp(source, ([x, y]) => [x * 7.3, y * 7.3], 300, 8);
    const middle = picture.data.subarray(4 * 300 + 5, 5 * 300 - 5);
    expect(Math.min(...middle)).toBeGreaterThan(124);
    expect(Math.max(...middle)).toBeLessThan(156);
  });

  it('follows a curved map between its nodes', () => {
    // A slope of one level a px, seen through a camera tilted by 15 degrees, 3000 px from its centre.
    const source = raster(
      256,
      4,
      1,
      Uint8Array.from({ length: 1024 }, (_, i) => i % 256),
    );
    const bend = (p: Point): Point => [(2 * p[0]) / (1 + (p[0] * Math.tan(Math.PI / 12)) / 3000), p[1]];
    const { picture } = warp(source, bend, 120, 4);
    for (let x = 1; x < 119; x++) {
      expect(Math.abs(picture.data[x] + 0.5 - bend([x + 0.5, 0])[0])).toBeLessThan(0.75);
    }
  });
});
