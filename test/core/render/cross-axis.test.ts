import { expect, it } from 'vitest';
import { raster } from '../../../src/core/raster/raster.js';
import { crossAxisMm } from '../../../src/core/render/cross-axis.js';

it('finds where the rows of a check mirror, wherever its repeat starts', () => {
  const [width, height, pxPerMm, alongMm] = [20, 400, 4, 25];
  for (const axis of [0.5, 7, 11.25, 19.125]) {
    const data = new Uint8Array(4 * width * height).fill(255);
    for (let y = 0; y < height; y++) {
      const v = 60 - (y + 0.5) / pxPerMm;
      // Distance to the nearest of the lines axis + k * along: a profile that mirrors about every one of them.
      const d = Math.abs((v - axis) / alongMm - Math.round((v - axis) / alongMm)) * alongMm;
      const level = d < 3 ? 30 : d < 7 ? 200 : 120;
      for (let x = 0; x < width; x++) data[4 * (y * width + x) + 1] = level;
    }
    const texture = { picture: raster(width, height, 4, data), pxPerMm, leftUMm: 0, topVMm: 60 };
    const found = crossAxisMm(texture, alongMm);
    // The line itself or the one half a repeat on.
    const off = ((found - axis) / (alongMm / 2)) % 1;
    expect(Math.min(Math.abs(off), 1 - Math.abs(off)) * (alongMm / 2)).toBeLessThan(0.15);
  }
});
