import { describe, expect, it } from 'vitest';
import { NO_HINTS, type Stage } from '../../../src/core/base/request.js';
import { findStripes } from '../../../src/core/pipeline/find-stripes.js';
import { halve } from '../../../src/core/raster/halve.js';
import { raster } from '../../../src/core/raster/raster.js';
import { pictureLevels } from '../../../src/core/rectify/picture-levels.js';
import { seededRandom } from '../../support/photo-painter/seeded-random.js';

const WIDTH = 1600;
const HEIGHT = 1200;
const PX_PER_MM = 5;
const COLOURS = [
  [42, 58, 99],
  [235, 226, 203],
  [189, 135, 56],
] as const;
/** Of upright bands, 3 a repeat. */
const WIDTHS = [16, 9, 7];
const REPEAT = 32;

function stripeColour(xMm: number): readonly [number, number, number] {
  const at = xMm - REPEAT * Math.floor(xMm / REPEAT);
  return COLOURS[at < WIDTHS[0] ? 0 : at < WIDTHS[0] + WIDTHS[1] ? 1 : 2];
}

/** Found in a picture of upright stripes on which something else is painted, and how many times they were looked for. */
function foundIn(
  cover: (x: number, y: number) => readonly [number, number, number] | null,
  others: readonly (readonly [number, number])[][] = [],
  noiseLevels = 3,
) {
  const random = seededRandom(5);
  const data = new Uint8Array(3 * WIDTH * HEIGHT);
  for (let y = 0; y < HEIGHT; y++) {
    for (let x = 0; x < WIDTH; x++) {
      const rgb = cover(x, y) ?? stripeColour(x / PX_PER_MM);
      const grain = noiseLevels * random.gaussian();
      for (let c = 0; c < 3; c++) data[3 * (y * WIDTH + x) + c] = Math.max(0, Math.min(255, rgb[c] + grain));
    }
  }
  const picture = raster(WIDTH, HEIGHT, 3, data);
  const stages: Stage[] = [];
  const outcome = findStripes({
    levels: pictureLevels(picture, halve(picture), null, 0),
    pxPerMm: PX_PER_MM,
    marginPx: 5,
    hints: NO_HINTS,
    isDoubted: false,
    tried: new Map(),
    others: () => others,
    begin: (stage) => stages.push(stage),
  });
  const found = outcome.ok ? outcome.value : null;
  const { reading } = found?.traced ?? { reading: null };
  return {
    looks: stages.filter((stage) => stage === 'stripes').length,
    bands: reading?.bandsPerRepeat ?? null,
    repeatMm:
      reading?.repeatColumns && found
        ? (reading.repeatColumns * found.view.straight.pxPerColumn) / PX_PER_MM
        : null,
    secondAngle: found?.view.secondAngle ?? null,
  };
}

describe('finding stripes', () => {
  it('looks once where they are plain to see', () => {
    const found = foundIn(() => null);
    expect(found).toMatchObject({ looks: 1, bands: 3 });
    expect(found.repeatMm).toBeCloseTo(REPEAT, 0);
  });

  it('reads one stretch along them where other cloth covers the rest', () => {
    // Bands of other widths, upright too, over the lower three fifths.
    const other = (x: number, y: number) =>
      y < 0.4 * HEIGHT ? null : COLOURS[Math.floor(x / (40 + x / 20)) % 3];
    const found = foundIn(other);
    expect(found.bands).toBe(3);
    expect(found.looks).toBeGreaterThan(1);
    expect(found.repeatMm).toBeCloseTo(REPEAT, 0);
  });

  it('takes an arm across the stripes for no check', () => {
    const skin = [214, 160, 130] as const;
    const arm = (x: number, y: number) =>
      x < 700 && Math.abs(y - 700 - 0.05 * x) < 130 + 3 * Math.sin(x / 9) ? skin : null;
    expect(foundIn(arm)).toMatchObject({ bands: 3, secondAngle: null });
  });

  it('hides another ruler that lies along them, and whose pattern was taken for theirs', () => {
    const left = (y: number): number => 400 + 0.3 * y;
    const ruler = (x: number, y: number) =>
      x > left(y) && x < left(y) + 900 ? ([(x - left(y)) % 70 < 45 ? 215 : 60, 120, 90] as const) : null;
    const outline: (readonly [number, number])[] = [
      [left(0), 0],
      [left(0) + 900, 0],
      [left(HEIGHT) + 900, HEIGHT],
      [left(HEIGHT), HEIGHT],
    ];
    const found = foundIn(ruler, [outline]);
    expect(found.bands).toBe(3);
    expect(found.looks).toBe(2);
    expect(found.repeatMm).toBeCloseTo(REPEAT, 0);
  });

  it('looks along other directions where the clearest one is that of shadows', () => {
    const bars = [90, 200, 330, 560, 610, 890, 1040, 1190, 1560];
    const steps = [-0.3, -0.35, 0.9, -0.2, -0.45, 1.6, -0.3, 0.7, -0.5];
    const shadows = (x: number, y: number) => {
      const across = 0.5 * x + 0.866 * y;
      let shade = 1;
      for (const [i, at] of bars.entries()) {
        const depth = Math.max(0, Math.min(1, 0.5 + (across - at) / 6));
        shade *= 1 + depth * steps[i];
      }
      // Faint stripes, far weaker than the shadows.
      const [r, g, b] = stripeColour(x / PX_PER_MM);
      const rgb = [150 + r / 12, 150 + g / 12, 150 + b / 12].map((v) => shade * v);
      return rgb as unknown as readonly [number, number, number];
    };
    const found = foundIn(shadows);
    expect(found.bands).toBe(3);
    expect(found.repeatMm).toBeCloseTo(REPEAT, 0);
  });

  it('tells a check though a hand lies on a corner of it', () => {
    const weft = [
      [40, 94, 60],
      [120, 60, 50],
    ] as const;
    const hand = (x: number, y: number): readonly [number, number, number] | null => {
      const finger = Math.floor((x + 0.4 * y) / 150);
      if (x < 900 || y > 500) return null;
      return [225 - 12 * (finger % 3), 160 - 9 * (finger % 2), 105];
    };
    const check = (x: number, y: number) => {
      const warp = stripeColour(x / PX_PER_MM);
      const other = weft[Math.floor(y / (24 * PX_PER_MM)) % 2];
      const woven = warp.map((v, c) => (v + other[c]) / 2) as unknown as readonly [number, number, number];
      return hand(x, y) ?? woven;
    };
    const found = foundIn(check);
    expect(found.bands).toBe(3);
    expect(found.secondAngle).not.toBeNull();
  });

  it('finds stripes of dark cloth that differ by a few levels', () => {
    const dark = (x: number): readonly [number, number, number] => {
      const [r, g, b] = stripeColour(x / PX_PER_MM);
      return [24 + r / 40, 22 + g / 40, 20 + b / 40];
    };
    const found = foundIn(dark, [], 0.8);
    expect(found.repeatMm).toBeCloseTo(REPEAT, 0);
  });
});
