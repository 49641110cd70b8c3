import { expect, it } from 'vitest';
import { raster } from '../../../src/core/raster/raster.js';
import { straightHiding } from '../../../src/core/rectify/stripe-view.js';

it('hides in the straight picture what a polygon of the photo covers there', () => {
  // Stripes upright: the straight picture is the photo at half its width and an eighth of its height.
  const [width, height] = [800, 640];
  const frame = { centreX: width / 2, centreY: height / 2, angle: Math.PI / 2, converge: 0, bow: 0, lens: 0 };
  const [columns, rows] = [width / 2, height / 8];
  const straight = {
    cloth: {
      picture: raster(columns, rows, 3, new Uint8Array(3 * columns * rows)),
      cloth: new Uint8Array(columns * rows).fill(1),
      uFromMm: 0,
      mmPerColumn: 1,
      vFromMm: 0,
      mmPerRow: 1,
    },
    uFromPx: -width / 2,
    vFromPx: height / 2,
    pxPerColumn: 2,
    pxPerRow: 8,
  };
  const ruler = [
    [200, 160],
    [600, 160],
    [600, 320],
    [200, 320],
  ] as const;
  const { cloth } = straightHiding({ frame, straight }, [ruler], 0).cloth;
  for (let row = 0; row < rows; row++) {
    for (let column = 0; column < columns; column++) {
      const [x, y] = [2 * column + 1, 8 * row + 4];
      const covered = x > 200 && x < 600 && y > 160 && y < 320;
      expect(cloth[row * columns + column], `${x},${y}`).toBe(covered ? 0 : 1);
    }
  }
  // What was given is left as it was.
  expect(straight.cloth.cloth.every((seen) => seen === 1)).toBe(true);
});
