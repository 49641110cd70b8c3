import { describe, expect, it } from 'vitest';
import { raster } from '../../../src/core/raster/raster.js';
import type { CombFit } from '../../../src/core/reference/comb-fit.js';
import { finerMarks } from '../../../src/core/reference/finer-marks.js';
import type { TickLine } from '../../../src/core/reference/tick-strip.js';
import { seededRandom } from '../../support/photo-painter/seeded-random.js';

const [width, height] = [1200, 160];
const pitch = 40;
const level = 80;

/** Long marks every 40 px below the level line, faint short ones between them, `parts` to a long one, from 10 to 30 px above it. */
function strip(parts: number, strength: number, noise: number, seed = 3) {
  const random = seededRandom(seed);
  const data = new Uint8Array(width * height);
  for (let y = 0; y < height; y++) {
    for (let x = 0; x < width; x++) {
      const depth = y + 0.5 - level;
      const k = (x + 0.5 - 20) / pitch;
      let value = 160 + noise * random.gaussian();
      if (depth > -30 && depth < -10) value -= strength * Math.cos(2 * Math.PI * parts * k);
      if (depth > 0 && depth < 20) value -= 60 * Math.exp(-0.5 * (((k - Math.round(k)) * pitch) / 1.5) ** 2);
      data[y * width + x] = Math.max(0, Math.min(255, Math.round(value)));
    }
  }
  return raster(width, height, 1, data);
}

const line: TickLine = {
  x: 0,
  y: level,
  alongX: 1,
  alongY: 0,
  tickAngle: Math.PI / 2,
  tickTurn: 0,
  bend: 0,
  fromPx: 3,
  toPx: width - 3,
  seen: { fromPx: 3, toPx: width - 3 },
  depthFrom: 2,
  depthTo: 18,
};
const fit: CombFit = {
  comb: { a: pitch, b: 20, c: 0 },
  marks: Array.from({ length: 29 }, (_, k) => ({ k, x: 20 + pitch * k })),
  rms: 0.1,
  presence: 1,
};

describe('finerMarks', () => {
  it.each([5, 8, 10])(
    'finds %d parts of two levels under noise of five, at the depths where they are',
    (parts) => {
      const found = finerMarks(strip(parts, 2, 5), line, fit);
      expect(found?.parts).toBe(parts);
      expect(found!.depthFrom).toBeGreaterThanOrEqual(-31);
      expect(found!.depthTo).toBeLessThanOrEqual(-9);
    },
  );

  it('finds none where there are none', () => {
    for (let seed = 1; seed < 9; seed++) expect(finerMarks(strip(10, 0, 5, seed), line, fit)).toBeNull();
  });

  it('finds none that no scale has: 7 parts', () => {
    expect(finerMarks(strip(7, 6, 1), line, fit)).toBeNull();
  });
});
