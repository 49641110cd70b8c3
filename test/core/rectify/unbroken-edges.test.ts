import { describe, expect, it } from 'vitest';
import { raster } from '../../../src/core/raster/raster.js';
import type { StraightCloth } from '../../../src/core/rectify/straight-cloth.js';
import { unbrokenShare } from '../../../src/core/rectify/unbroken-edges.js';
import { DYES } from '../../support/sample-scenes.js';
import { MM_PER_COLUMN, MM_PER_ROW, paintStraight } from '../../support/straight-cloth-painter.js';

const bands = (...list: readonly (readonly [keyof typeof DYES, number])[]) =>
  list.map(([dye, width]) => ({ colour: DYES[dye], width }));
const ORDINARY = { blur: 1, noise: 4, weave: 0.06 };
const STRIPES = {
  bands: bands(['indigo', 90], ['ivory', 50], ['ochre', 30]),
  columns: 900,
  rows: 240,
  start: 20,
  seed: 2,
  dirt: ORDINARY,
};
const WOVEN = { ...STRIPES, crossing: bands(['ivory', 40], ['madder', 12]) };

/** Columns and rows change places: what crosses runs down the columns. */
function turned({ picture, cloth, ...rest }: StraightCloth): StraightCloth {
  const { width, height } = picture;
  const data = new Uint8Array(picture.data.length);
  const seen = new Uint8Array(cloth.length);
  for (let y = 0; y < height; y++)
    for (let x = 0; x < width; x++) {
      seen[x * height + y] = cloth[y * width + x];
      for (let c = 0; c < 3; c++) data[3 * (x * height + y) + c] = picture.data[3 * (y * width + x) + c];
    }
  return {
    ...rest,
    picture: raster(height, width, 3, data),
    cloth: seen,
    mmPerColumn: MM_PER_ROW,
    mmPerRow: MM_PER_COLUMN,
  };
}

/** Stripes with a row of bars across, every `pitch` columns one of `wide` columns. */
function withRows(wide: number, pitch: number): StraightCloth {
  const { cloth } = paintStraight(STRIPES);
  const { width, height, data } = cloth.picture;
  const copy = data.slice();
  for (let y = 0; y < height; y++)
    for (let x = 0; x < width; x++)
      if (y % 40 < 12 && x % pitch < wide) copy.set([110, 40, 30], 3 * (y * width + x));
  return { ...cloth, picture: raster(width, height, 3, copy) };
}

describe('unbrokenShare', () => {
  it('is nearly whole for woven bands, either way, under noise and what crosses', () => {
    expect(unbrokenShare(paintStraight(STRIPES).cloth)).toBeGreaterThan(0.97);
    expect(unbrokenShare(paintStraight(WOVEN).cloth)).toBeGreaterThan(0.97);
    expect(unbrokenShare(turned(paintStraight(WOVEN).cloth))).toBeGreaterThan(0.97);
  });

  it('is small for the rims of motifs in rows, however little of the width lies between them', () => {
    for (const [wide, pitch] of [
      [20, 90],
      [45, 90],
      [70, 90],
      [80, 100],
    ])
      expect(unbrokenShare(turned(withRows(wide, pitch)))).toBeLessThan(0.8);
  });

  it('does not mind that the cloth ends half-way, or that something hides a part of it', () => {
    const dirt = { ...ORDINARY, hidden: (column: number) => column > 300 && column < 520 };
    expect(unbrokenShare(turned(paintStraight({ ...WOVEN, dirt }).cloth))).toBeGreaterThan(0.95);
    const { cloth } = paintStraight(WOVEN);
    const bare = cloth.picture.data.slice();
    const { width, height } = cloth.picture;
    for (let i = 0; i < width * height; i++) if (i % width > 0.55 * width) bare.fill(128, 3 * i, 3 * i + 3);
    const half = { ...cloth, picture: raster(width, height, 3, bare) };
    expect(unbrokenShare(turned(half))).toBeGreaterThan(0.95);
  });

  it('is null where two edges side by side are all, as at a selvage', () => {
    const { cloth } = paintStraight({
      ...STRIPES,
      start: -200,
      bands: bands(['ivory', 1000], ['madder', 30], ['indigo', 900]),
    });
    expect(unbrokenShare(cloth)).toBeNull();
  });

  it('is null where nothing has an edge', () => {
    const plain = raster(200, 100, 3, new Uint8Array(60_000).fill(90));
    const cloth = { ...paintStraight(STRIPES).cloth, picture: plain, cloth: new Uint8Array(20_000).fill(1) };
    expect(unbrokenShare(cloth)).toBeNull();
  });
});
