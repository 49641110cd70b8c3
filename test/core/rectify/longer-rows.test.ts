import { describe, expect, it } from 'vitest';
import { raster } from '../../../src/core/raster/raster.js';
import { longerRows } from '../../../src/core/rectify/longer-rows.js';

describe('longerRows', () => {
  const [width, height] = [3, 9];
  const data = Uint8Array.from({ length: 3 * width * height }, (_, i) => 20 * Math.floor(i / (3 * width)));
  const straight = (cloth: Uint8Array) => ({
    picture: raster(width, height, 3, data),
    cloth,
    uFromMm: 1,
    mmPerColumn: 0.5,
    vFromMm: 7,
    mmPerRow: 2,
  });

  it('takes the mean of every second row and drops what is left over', () => {
    const { picture, cloth, mmPerRow, uFromMm } = longerRows(straight(new Uint8Array(27).fill(1)), 4);
    expect([picture.width, picture.height]).toEqual([3, 2]);
    // Rows 0 and 2, 4 and 6 of rows that are 20 levels a row.
    expect([...picture.data.slice(0, 9)]).toEqual(new Array(9).fill(20));
    expect([...picture.data.slice(9)]).toEqual(new Array(9).fill(100));
    expect([...cloth]).toEqual([1, 1, 1, 1, 1, 1]);
    expect([mmPerRow, uFromMm]).toEqual([8, 1]);
  });

  it('calls a place cloth where all rows asked show it', () => {
    const cloth = new Uint8Array(27).fill(1);
    cloth[2 * width + 1] = 0;
    cloth[5 * width + 2] = 0;
    expect([...longerRows(straight(cloth), 4).cloth]).toEqual([1, 0, 1, 1, 1, 1]);
  });
});
