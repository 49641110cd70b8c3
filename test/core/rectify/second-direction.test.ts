import { describe, expect, it } from 'vitest';
import { halve } from '../../../src/core/raster/halve.js';
import { raster } from '../../../src/core/raster/raster.js';
import { pictureLevels } from '../../../src/core/rectify/picture-levels.js';
import { viewStripes } from '../../../src/core/rectify/stripe-view.js';

const WIDTH = 1200;
const HEIGHT = 900;
const PX_PER_MM = 5;
const COLOURS = [
  [42, 58, 99],
  [235, 226, 203],
  [189, 135, 56],
] as const;
/** Bands of warp and of weft in order, px and colour. */
const WARP = [
  [90, 0],
  [45, 1],
  [25, 2],
  [30, 1],
] as const;
const WEFT = [
  [60, 2],
  [70, 0],
  [35, 1],
] as const;
/** Samples along either side of a pixel. */
const SAMPLES = 4;

function threadColour(bands: readonly (readonly [number, number])[], at: number): readonly number[] {
  const repeat = bands.reduce((sum, [width]) => sum + width, 0);
  let left = at - repeat * Math.floor(at / repeat);
  for (const [width, colour] of bands) {
    if (left < width) return COLOURS[colour];
    left -= width;
  }
  return COLOURS[0];
}

/** A check in a 2/2 twill as its threads lie, warp at the angle (radians), threads so many px wide. */
function twill(angle: number, warpPx: number, weftPx: number) {
  const data = new Uint8Array(3 * WIDTH * HEIGHT);
  const [cos, sin] = [Math.cos(angle), Math.sin(angle)];
  for (let p = 0; p < WIDTH * HEIGHT; p++) {
    const sum = [0, 0, 0];
    for (let k = 0; k < SAMPLES * SAMPLES; k++) {
      const x = (p % WIDTH) + ((k % SAMPLES) + 0.5) / SAMPLES;
      const y = Math.floor(p / WIDTH) + (Math.floor(k / SAMPLES) + 0.5) / SAMPLES;
      const [u, v] = [x * sin + y * cos, x * cos - y * sin];
      const step = Math.floor(u / warpPx) + Math.floor(v / weftPx);
      const colour = (step & 3) < 2 ? threadColour(WARP, u) : threadColour(WEFT, v);
      for (let c = 0; c < 3; c++) sum[c] += colour[c] / SAMPLES ** 2;
    }
    data.set(sum, 3 * p);
  }
  return raster(WIDTH, HEIGHT, 3, data);
}

const degrees = (radians: number): number => ((radians * 180) / Math.PI) % 180;

describe('the second direction of a check', () => {
  it.each([
    [4, 1.2, 2],
    [-4, 2, 1.2],
  ])(
    'warp leaning %i degrees, threads of %f and %f px: is found where the diagonals of a twill pull its edges off',
    (lean, warpPx, weftPx) => {
      const picture = twill(Math.PI / 2 - (lean * Math.PI) / 180, warpPx, weftPx);
      const view = viewStripes(pictureLevels(picture, halve(picture), null, 0), PX_PER_MM);
      const found = [view?.frame.angle, view?.second?.frame.angle].map((angle) =>
        degrees(angle ?? Number.NaN),
      );
      const [one, other] = found.sort((p, q) => p - q);
      const expected = [90 - lean, (180 - lean) % 180].sort((p, q) => p - q);
      expect(Math.abs(one - expected[0])).toBeLessThan(0.3);
      expect(Math.abs(other - expected[1])).toBeLessThan(0.3);
    },
  );
});
