import { describe, expect, it } from 'vitest';
import type { Outcome } from '../../../src/core/base/outcome.js';
import { NO_HINTS, type PhotoRegion } from '../../../src/core/base/request.js';
import { measureCloth } from '../../../src/core/pipeline/measure-cloth.js';
import type { MeasuredCloth } from '../../../src/core/pipeline/measured-cloth.js';
import { raster } from '../../../src/core/raster/raster.js';

const WIDTH = 1200;
const HEIGHT = 900;
const PX_PER_MM = 5;
const INKS = [
  [43, 58, 103],
  [235, 226, 203],
  [176, 92, 40],
];

/** Ticking of 60 px (12 mm) a repeat at the place `t` across it: indigo 28 px, ivory 18, ochre 8, ivory 6. */
function inkAt(t: number): number {
  const at = t - 60 * Math.floor(t / 60);
  return at < 28 ? 0 : at >= 46 && at < 54 ? 2 : 1;
}

/** A scan of cloth of which `across` tells for each px how far across the ticking it lies, px; smooth by 2 x 2 samples, with noise. */
function measured(
  across: (x: number, y: number) => number,
  region: PhotoRegion | null = null,
): Outcome<MeasuredCloth> {
  const data = new Uint8Array(WIDTH * HEIGHT * 3);
  for (let i = 0; i < WIDTH * HEIGHT; i++) {
    const [x, y] = [i % WIDTH, Math.floor(i / WIDTH)];
    for (const [p, q] of [
      [0.25, 0.4],
      [0.75, 0.3],
      [0.3, 0.8],
      [0.7, 0.7],
    ]) {
      const ink = INKS[inkAt(across(x + p, y + q))];
      for (let c = 0; c < 3; c++) data[3 * i + c] += (ink[c] - 1) / 4;
    }
    for (let c = 0; c < 3; c++) data[3 * i + c] += (i * 7919 + 31 * c) % 5;
  }
  const picture = raster(WIDTH, HEIGHT, 3, data);
  const photo = { picture, photoPerPicture: 1, widthPx: WIDTH, heightPx: HEIGHT, focal35Mm: null };
  return measureCloth(photo, { kind: 'density', pxPerMm: PX_PER_MM }, { hints: { ...NO_HINTS, region } });
}

const found = (outcome: Outcome<MeasuredCloth>): string =>
  outcome.ok ? `measured, ${outcome.value.model.repeat.across_mm} mm` : outcome.refusal.found;

const lengthIn = (text: string): number => Number(/about (\d+) mm/.exec(text)?.[1]);

/** Zigzag of legs 150 px wide as seen, so 150 sqrt 2 px long. */
const zigzag = (x: number, y: number): number =>
  (y + Math.abs(x - 300 * Math.floor(x / 300) - 150)) / Math.SQRT2;

describe('stripes that run on through the view', () => {
  it.each([
    ['plain', (x: number, y: number) => 0.9 * x + 0.436 * y],
    ['bent by 2 % of the width', (x: number, y: number) => y + 24 * ((x - 600) / 600) ** 2],
  ])('are measured: %s', (_, across) => {
    const outcome = measured(across);
    expect(outcome.ok && outcome.value.model.repeat.across_mm).toBeCloseTo(12, 1);
  });
});

describe('stripes that do not', () => {
  it('are told as runs where they go to and fro, with their directions and length', () => {
    const text = found(measured(zigzag));
    expect(text).toMatch(/change direction.*at 4[4-6] and at 13[4-6] degrees/);
    expect(Math.abs(lengthIn(text) / ((150 * Math.SQRT2) / PX_PER_MM) - 1)).toBeLessThan(0.15);
  });

  it('are told as runs where two lie side by side and meet in a fold', () => {
    const text = found(measured((x, y) => (y + Math.abs(x - 600)) / Math.SQRT2));
    expect(text).toMatch(/change direction.*at 4[4-6] and at 13[4-6] degrees/);
  });

  it('are told with their length where blocks are turned by turns', () => {
    const text = found(measured((x, y) => ((Math.floor(x / 200) + Math.floor(y / 200)) % 2 ? x : y)));
    expect(text).toMatch(/change direction.*at 0 and at 90 degrees|broken into blocks/);
    expect(Math.abs(lengthIn(text) / 40 - 1)).toBeLessThan(0.15);
  });

  it('are told as blocks where woven strips lie side by side, each shifted against the next', () => {
    const shifts = [0, 30, 0, 30, 0, 30];
    const text = found(measured((x, y) => y + shifts[Math.floor(x / 200)]));
    expect(text).toMatch(/broken into blocks/);
    expect(Math.abs(lengthIn(text) / 40 - 1)).toBeLessThan(0.15);
  });

  it('are measured where one run alone is chosen', () => {
    const outcome = measured((x, y) => (x < 600 ? y : x), { x: 610, y: 0, width: 590, height: 900 });
    expect(outcome.ok && outcome.value.model.repeat.across_mm).toBeCloseTo(12, 1);
  });
});
