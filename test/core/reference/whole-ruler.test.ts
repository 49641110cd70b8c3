import { describe, expect, it } from 'vitest';
import type { Point } from '../../../src/core/math/matrix3.js';
import { isInsidePolygon } from '../../../src/core/raster/fill-polygon.js';
import { raster } from '../../../src/core/raster/raster.js';
import { wholeRuler } from '../../../src/core/reference/whole-ruler.js';

const WOOD = [190, 150, 90];
const INDIGO = [35, 45, 95];
const IVORY = [235, 225, 200];

/** Half-size picture, 400 x 200 px: a wooden rule over rows 80 to 110 and columns from..to, on upright stripes 20 px wide. */
function picture(from: number, to: number) {
  const data = new Uint8Array(400 * 200 * 3);
  for (let y = 0; y < 200; y++) {
    for (let x = 0; x < 400; x++) {
      const rule = y >= 80 && y < 110 && x >= from && x < to;
      const own = rule ? WOOD : Math.floor(x / 20) % 2 ? INDIGO : IVORY;
      // Grain, and a numeral every 50 px.
      const dark = rule && x % 50 < 4 && y > 85 && y < 95 ? 120 : (x * 7 + y * 13) % 5;
      for (let c = 0; c < 3; c++) data[3 * (y * 400 + x) + c] = Math.max(0, own[c] - dark);
    }
  }
  return raster(400, 200, 3, data);
}

/** Columns 150 to 250 of the half-size picture were read: twice that in picture px. */
const READ: Point[] = [
  [300, 160],
  [500, 160],
  [500, 220],
  [300, 220],
];
const ends = (outline: readonly Point[]): [number, number] => {
  const xs = outline.map((p) => p[0]);
  return [Math.min(...xs), Math.max(...xs)];
};

describe('wholeRuler', () => {
  it('goes on to where the body ends, and no further', () => {
    const [from, to] = ends(wholeRuler(picture(60, 330), 2, READ, 8));
    expect(Math.abs(from - 120)).toBeLessThan(14);
    expect(Math.abs(to - 660)).toBeLessThan(14);
  });

  it('goes on past the rim of the picture', () => {
    const [from, to] = ends(wholeRuler(picture(0, 400), 2, READ, 8));
    expect(from).toBeLessThan(0);
    expect(to).toBeGreaterThan(800);
  });

  it('leaves an outline that is whole as it is', () => {
    const [from, to] = ends(wholeRuler(picture(150, 250), 2, READ, 8));
    expect(Math.abs(from - 300)).toBeLessThan(10);
    expect(Math.abs(to - 500)).toBeLessThan(10);
  });

  it('follows a tape that lies in an S, though only its middle was read', () => {
    // Half-size px; the tape is 30 px wide about this level.
    const level = (x: number): number => 100 + 20 * Math.sin((2 * Math.PI * (x - 200)) / 400);
    const data = new Uint8Array(400 * 200 * 3);
    for (let y = 0; y < 200; y++) {
      for (let x = 0; x < 400; x++) {
        const own = Math.abs(y + 0.5 - level(x + 0.5)) < 15 ? WOOD : Math.floor(x / 20) % 2 ? INDIGO : IVORY;
        for (let c = 0; c < 3; c++) data[3 * (y * 400 + x) + c] = own[c];
      }
    }
    const read = [180, 190, 200, 210, 220];
    const side = (off: number): Point[] => read.map((x) => [2 * x, 2 * (level(x) + off)]);
    const outline = wholeRuler(raster(400, 200, 3, data), 2, [...side(-15), ...side(15).reverse()], 8);
    let wrong = 0;
    for (let x = 10; x < 390; x += 4) {
      for (const off of [-20, -10, 0, 10, 20]) {
        const isTape = isInsidePolygon([2 * x, 2 * (level(x) + off)], outline);
        if (isTape !== Math.abs(off) < 15) wrong++;
      }
    }
    // Of 475 places, 5 px or more of the half-size picture from either side of the tape.
    expect(wrong).toBeLessThan(10);
  });
});
