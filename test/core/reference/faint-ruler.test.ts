import { describe, expect, it } from 'vitest';
import { raster } from '../../../src/core/raster/raster.js';
import { combNumberAt, combPitchAt } from '../../../src/core/reference/comb-fit.js';
import { faintRuler } from '../../../src/core/reference/faint-ruler.js';
import type { SideComb } from '../../../src/core/reference/side-combs.js';
import { seededRandom } from '../../support/photo-painter/seeded-random.js';

const height = 110;
const usualWidth = 1400;
const EDGE = 20;

interface Marks {
  /** From mark to mark, px. */
  readonly pitch: number;
  /** Length of mark k, px. */
  readonly lengthOf: (k: number) => number;
  readonly strength: number;
  readonly noise: number;
  readonly width?: number;
  /** By how much a lens shortens spacings towards both ends, as a part of them. */
  readonly shorter?: number;
}

/** Number of the mark at x of a row whose spacing a lens shortens by `shorter` at its ends (radial distortion of third order). */
const numberAt = (x: number, { pitch, width = usualWidth, shorter = 0 }: Marks): number => {
  const q = (2 * x) / width - 1;
  return (width / 2 / pitch) * (1 + q + (shorter * q * q * q) / 3);
};

/** Marks hanging down from a level edge, each a Gaussian dark line of 0.8 px, under noise. */
function strip(marks: Marks) {
  const { pitch, lengthOf, strength, noise, width = usualWidth } = marks;
  const random = seededRandom(11);
  const data = new Uint8Array(width * height);
  for (let y = 0; y < height; y++) {
    for (let x = 0; x < width; x++) {
      const depth = y + 0.5 - EDGE;
      let value = (depth < 0 ? 90 : 150) + noise * random.gaussian();
      const number = numberAt(x + 0.5, marks);
      const nearest = Math.round(number);
      for (const k of [nearest - 1, nearest, nearest + 1]) {
        if (depth < 0 || depth > lengthOf(k)) continue;
        value -= strength * Math.exp(-0.5 * (((number - k) * pitch) / 0.8) ** 2);
      }
      data[y * width + x] = Math.max(0, Math.min(255, Math.round(value)));
    }
  }
  return raster(width, height, 1, data);
}

const beside = (pitchPx: number, width = usualWidth): SideComb => ({
  x: 4,
  y: EDGE,
  alongX: 1,
  alongY: 0,
  inX: 0,
  inY: 1,
  lengthPx: width - 8,
  depthPx: 3.5,
  pitchPx,
  growth: 0,
  strength: 0.5,
});

const millimetres =
  (pitch: number) =>
  (k: number): number =>
    pitch * (k % 10 === 0 ? 6.5 : k % 5 === 0 ? 4.5 : 2.7);

describe('faintRuler', () => {
  it.each([
    ['fine', 2.4, 22, 4],
    ['noisy', 6.3, 9, 9],
    ['coarse', 11, 9, 9],
  ])('reads millimetres of %s marks', (_, pitch, strength, noise) => {
    const luma = strip({ pitch, lengthOf: millimetres(pitch), strength, noise });
    // The wave's own frequency is known to a per cent or so.
    const found = faintRuler(luma, beside(pitch * 1.004), 'auto');
    expect(found?.hierarchy.unit).toBe('mm');
    const pxPerMm =
      Math.abs(combPitchAt(found!.comb, found!.ticks[found!.ticks.length >> 1].k)) / found!.hierarchy.pitchMm;
    expect(Math.abs(pxPerMm / pitch - 1)).toBeLessThan(5e-4);
    // The longest marks are where they were drawn: every tenth from 0 on.
    const place = found!.ticks
      .filter((t) => found!.hierarchy.rankOf(t.k) === 2)
      .map((t) => (t.s + 4) / pitch);
    for (const k of place) expect(Math.abs(k / 10 - Math.round(k / 10))).toBeLessThan(0.02);
  });

  it('reads a part of a long rule that a lens bends', () => {
    const marks = {
      pitch: 10,
      lengthOf: millimetres(10),
      strength: 22,
      noise: 4,
      width: 3200,
      shorter: 0.03,
    };
    const found = faintRuler(strip(marks), beside(10, marks.width), 'auto');
    expect(found?.hierarchy.unit).toBe('mm');
    const middle = (found!.line.fromPx + found!.line.toPx) / 2;
    const { comb, line } = found!;
    const mmFromTo = (f: (x: number) => number) => f(middle + 50) - f(middle - 50);
    const read = mmFromTo((s) => combNumberAt(comb, s));
    const drawn = mmFromTo((s) => numberAt(line.x + s * line.alongX, marks));
    expect(Math.abs(read / drawn - 1)).toBeLessThan(2e-3);
  });

  it('reads sixteenths of an inch', () => {
    const lengths = [2, 3.2, 4.4, 5.6, 7];
    const rank = (k: number): number =>
      k % 16 === 0 ? 4 : k % 8 === 0 ? 3 : k % 4 === 0 ? 2 : k % 2 === 0 ? 1 : 0;
    const luma = strip({ pitch: 9, lengthOf: (k) => 9 * lengths[rank(k)], strength: 9, noise: 9 });
    const found = faintRuler(luma, beside(9), 'auto');
    expect(found?.hierarchy).toMatchObject({ unit: 'inch', pitchMm: 25.4 / 16 });
  });

  it.each([
    ['all of one length', () => 18],
    ['every second longer', (k: number) => (k % 2 === 0 ? 30 : 18)],
    ['every seventh longer', (k: number) => (k % 7 === 0 ? 40 : 18)],
    ['in threes and twelves', (k: number) => (k % 12 === 0 ? 45 : k % 3 === 0 ? 30 : 18)],
    ['lengths by chance', (k: number) => 12 + ((k * 7919) % 31)],
  ])('takes no ruler from marks %s', (_, lengthOf) => {
    for (const pitch of [5, 9]) {
      const luma = strip({ pitch, lengthOf, strength: 20, noise: 4 });
      expect(faintRuler(luma, beside(pitch), 'auto')).toBeNull();
    }
  });
});
