import { describe, expect, it } from 'vitest';
import { type Raster, raster } from '../../../src/core/raster/raster.js';
import {
  angleAt,
  fitGivenStripes,
  fitStripeFrame,
  fitStripeFrameNear,
} from '../../../src/core/rectify/fit-stripe-frame.js';
import { gradientField } from '../../../src/core/rectify/gradient-field.js';
import { narrowestColumns } from '../../../src/core/rectify/narrow-bands.js';
import { seededRandom } from '../../support/photo-painter/seeded-random.js';
import { paintStraight } from '../../support/straight-cloth-painter.js';

const WIDTH = 640;
const HEIGHT = 480;

/** Grey by the place in the picture, with noise. */
function picture(level: (x: number, y: number) => number, noise = 2): Raster<Uint8Array> {
  const random = seededRandom(8);
  const data = new Uint8Array(3 * WIDTH * HEIGHT);
  for (let y = 0; y < HEIGHT; y++) {
    for (let x = 0; x < WIDTH; x++) {
      const grey = level(x + 0.5, y + 0.5);
      const i = 3 * (y * WIDTH + x);
      for (let c = 0; c < 3; c++) data[i + c] = Math.max(0, Math.min(255, grey + noise * random.gaussian()));
    }
  }
  return raster(WIDTH, HEIGHT, 3, data);
}

const fieldOf = (p: Raster<Uint8Array>) => gradientField(p, new Uint8Array(WIDTH * HEIGHT));

/** Edges spread over two px, as a lens and a shrunk copy leave them; `depth` px inside. */
const soft = (depth: number, inside: number, outside: number) =>
  outside + (inside - outside) / (1 + Math.exp(-2.5 * depth));

/** Bands of 0.4 of the period; distances in px. */
const wave = (u: number, period: number, px = 1) => {
  const at = u / period - Math.floor(u / period);
  return soft((0.2 - Math.abs(at - 0.4)) * (period / px), 60, 190);
};
const radians = (deg: number) => (deg * Math.PI) / 180;
/** Stripes at so many degrees, counter-clockwise as seen. */
const stripes = (deg: number, period: number) => (x: number, y: number) =>
  wave(x * Math.sin(radians(deg)) + y * Math.cos(radians(deg)), period);

const degreesBetween = (a: number, b: number): number => {
  const d = a - b;
  return Math.abs(d - Math.PI * Math.round(d / Math.PI)) * (180 / Math.PI);
};

describe('fitStripeFrame', () => {
  it.each([0, 17, 45, 88, 90, 133, 179])('finds the direction of parallel stripes at %d degrees', (deg) => {
    const found = fitStripeFrame(fieldOf(picture(stripes(deg, 31))));
    expect(degreesBetween(found?.frame.angle ?? 9, radians(deg))).toBeLessThan(0.1);
    expect(found?.secondAngle).toBeNull();
  });

  it('follows stripes that meet at a vanishing point', () => {
    // Lines through the point (1500, -900): a fan of 18 degrees over the picture.
    const [px, py] = [1500, -900];
    const found = fitStripeFrame(
      fieldOf(
        picture((x, y) => wave(Math.atan2(y - py, x - px), radians(1.1), 1 / Math.hypot(x - px, y - py))),
      ),
    );
    if (!found) throw new Error('no direction');
    for (const [x, y] of [
      [80, 60],
      [560, 60],
      [320, 240],
      [80, 420],
      [560, 420],
    ]) {
      expect(degreesBetween(angleAt(found.frame, x, y), -Math.atan2(y - py, x - px))).toBeLessThan(0.5);
    }
  });

  it('finds both directions of a check, neither bent by the other', () => {
    const across = stripes(24, 40);
    const along = stripes(115, 47);
    const field = fieldOf(picture((x, y) => (across(x, y) + along(x, y)) / 2));
    const found = fitStripeFrame(field);
    if (!found || found.secondAngle === null) throw new Error('a direction is missing');
    const second = fitStripeFrameNear(field, found.secondAngle);
    const angles = [found.frame.angle, second?.angle ?? 9];
    for (const deg of [24, 115]) {
      expect(Math.min(...angles.map((a) => degreesBetween(a, radians(deg))))).toBeLessThan(0.15);
    }
    // Neither is taken for a bow or a fan.
    expect(Math.abs(found.frame.bow * HEIGHT)).toBeLessThan(0.01);
    expect(Math.abs(found.frame.converge * HEIGHT)).toBeLessThan(0.01);
  });

  it('finds no direction in spots and none in plain cloth', () => {
    const spots = picture((x, y) => soft(14 - Math.hypot((x % 60) - 30, (y % 60) - 30), 220, 90));
    expect(fitStripeFrame(fieldOf(spots))).toBeNull();
    expect(fitStripeFrame(fieldOf(picture(() => 120)))).toBeNull();
  });
});

describe('narrowestColumns', () => {
  const paint = (widths: readonly number[]) =>
    paintStraight({
      bands: widths.map((width, i) => ({ colour: ['#2a3a63', '#ebe2cb'][i % 2], width })),
      columns: 600,
      rows: 80,
      start: 4,
      seed: 3,
      dirt: { noise: 3, weave: 0.05 },
    }).cloth;

  it('is the width of the narrowest band, to a column', () => {
    expect(narrowestColumns(paint([40, 25]))).toBeGreaterThanOrEqual(24);
    expect(narrowestColumns(paint([40, 5, 30, 12]))).toBeGreaterThanOrEqual(4);
    expect(narrowestColumns(paint([40, 5, 30, 12]))).toBeLessThanOrEqual(6);
  });

  it('is beyond all bounds where nothing changes', () => {
    expect(narrowestColumns(paint([2000, 2000]))).toBe(Infinity);
  });
});

describe('fitGivenStripes', () => {
  // Most of the picture has stripes at 30 degrees, a table it lies on has them at 75.
  const crossed = fieldOf(picture((x, y) => (x < 400 ? stripes(30, 31)(x, y) : stripes(75, 23)(x, y))));

  it('takes the stripes that run as given, not the strongest', () => {
    expect(degreesBetween(fitStripeFrame(crossed)!.frame.angle, radians(30))).toBeLessThan(1);
    for (const given of [71, 75, 79]) {
      expect(degreesBetween(fitGivenStripes(crossed, radians(given))!.frame.angle, radians(75))).toBeLessThan(
        0.3,
      );
    }
  });

  it('takes none where none run so', () => {
    expect(fitGivenStripes(fieldOf(picture(stripes(30, 31))), radians(120))).toBeNull();
    expect(fitGivenStripes(fieldOf(picture(stripes(30, 31))), radians(47))).toBeNull();
  });

  it('knows a check from one of its directions', () => {
    const check = fieldOf(picture((x, y) => 0.5 * stripes(20, 31)(x, y) + 0.5 * stripes(110, 25)(x, y)));
    for (const [given, other] of [
      [22, 110],
      [108, 20],
    ]) {
      const found = fitGivenStripes(check, radians(given))!;
      expect(degreesBetween(found.frame.angle, radians(given))).toBeLessThan(2.5);
      expect(degreesBetween(found.secondAngle!, radians(other))).toBeLessThan(2);
    }
  });
});
