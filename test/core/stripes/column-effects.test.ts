import { describe, expect, it } from 'vitest';
import { byteFromLinear } from '../../../src/core/colour/srgb.js';
import { raster } from '../../../src/core/raster/raster.js';
import { columnEffects } from '../../../src/core/stripes/column-effects.js';
import type { LightField } from '../../../src/core/stripes/light-field.js';
import { seededRandom } from '../../support/photo-painter/seeded-random.js';

const WIDTH = 240;
const HEIGHT = 120;
const even: LightField = {
  columns: 4,
  rows: 4,
  logGain: new Float64Array(16),
  width: WIDTH,
  height: HEIGHT,
};
const columnPart = (x: number): number => (x % 40 < 22 ? 0.35 : 0.12);
const rowPart = (y: number): number => (y % 30 < 9 ? 0.3 : 0.05);

/** Columns' parts less their mean, of a check that adds its yarns' light, where `seen`; what is `covered` has one colour. */
function partsOf(seen: (x: number, y: number) => boolean, covered: (x: number, y: number) => boolean) {
  const random = seededRandom(3);
  const data = new Uint8Array(3 * WIDTH * HEIGHT);
  const cloth = new Uint8Array(WIDTH * HEIGHT);
  for (let y = 0; y < HEIGHT; y++)
    for (let x = 0; x < WIDTH; x++) {
      const i = y * WIDTH + x;
      const linear = covered(x, y) ? 0.9 : columnPart(x) + rowPart(y) + 0.004 * random.gaussian();
      data.fill(Math.round(byteFromLinear(Math.max(0, linear))), 3 * i, 3 * i + 3);
      cloth[i] = seen(x, y) ? 1 : 0;
    }
  const effects = columnEffects(
    { picture: raster(WIDTH, HEIGHT, 3, data), cloth, mmPerRow: 0.5 } as Parameters<typeof columnEffects>[0],
    even,
  );
  const green = Float64Array.from({ length: WIDTH }, (_, x) => effects[3 * x + 1]);
  const off = Array.from(green, (v, x) => v - columnPart(x)).filter((v) => !Number.isNaN(v));
  const mean = off.reduce((sum, v) => sum + v, 0) / off.length;
  return { green, most: Math.max(...off.map((v) => Math.abs(v - mean))) };
}

describe('columnEffects', () => {
  it('are the same whichever rows are seen', () => {
    // A slanting window: columns at the left and right see other rows altogether.
    const { most } = partsOf(
      (x, y) => Math.abs(y - 0.4 * x - 12) < 40,
      () => false,
    );
    expect(most).toBeLessThan(0.004);
  });

  it('leave out what lies on the cloth', () => {
    const { most } = partsOf(
      () => true,
      (x, y) => x + 2 * y < 90,
    );
    expect(most).toBeLessThan(0.006);
  });

  it('are known of a column that is none of the sum all along', () => {
    const { green } = partsOf(
      () => true,
      (x) => x === 100,
    );
    expect(green.every(Number.isFinite)).toBe(true);
    expect(green[100]).toBeGreaterThan(0.5);
  });

  it('are unknown for columns out of sight', () => {
    const { green } = partsOf(
      (x) => x < 100,
      () => false,
    );
    expect(green[50]).not.toBeNaN();
    expect(green[150]).toBeNaN();
  });
});
