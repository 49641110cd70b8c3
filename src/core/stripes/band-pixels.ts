import { cie76 } from '../colour/cie76.js';
import { type Lab, labFromLinear } from '../colour/lab.js';
import { linearFromByte } from '../colour/srgb.js';
import type { StraightCloth } from '../rectify/straight-cloth.js';
import { isBetween } from './band-segments.js';
import { type LightField, logGainAt } from './light-field.js';
import type { RoughReading } from './stripe-reading.js';

/** A pixel of a band under even light. */
export interface BandPixel {
  readonly key: number;
  readonly x: number;
  readonly y: number;
  readonly lab: Lab;
  readonly linear: readonly [number, number, number];
  /** Clearly another colour than the band's, as are neighbours along the stripe, or those on both sides of it. */
  readonly odd: boolean;
}

/** About how many pixels are looked at, across and along. */
export type Sampling = readonly [across: number, along: number];

/** Odd pixels differ from their band by this many times its usual scatter, and by so much (CIE76) at least. */
const SCATTERS = 5;
const LEAST_OFF = 12;

/** A pixel that noise has changed has no neighbour so many rows or columns on that is as odd. */
const NEAR = 2;

/** Columns that blur reaches into a band; wide bands leave most of them out. */
const BLUR_REACH = 5;

/** Columns and rows from one sampled pixel to the next. */
export const stepsOf = ({ picture }: StraightCloth, [across, along]: Sampling): [number, number] => [
  Math.max(1, Math.round(picture.width / across)),
  Math.max(1, Math.round(picture.height / along)),
];

/**
 * A sample of the pixels inside the bands; those near a band's edges are left out, and bands with hardly a pixel. What a narrow
 * band has of its neighbours' colours near its edges is their blur and nothing odd.
 */
export function bandPixels(
  cloth: StraightCloth,
  reading: RoughReading,
  keyOf: (segment: number) => number | null,
  sampling: Sampling,
): BandPixel[] {
  const { width, height } = cloth.picture;
  const [stepX, stepY] = stepsOf(cloth, sampling);
  return reading.segments.flatMap((segment, s) => {
    const key = keyOf(s);
    if (key === null) return [];
    const margin = Math.min(4, 0.25 * (segment.to - segment.from));
    const from = Math.ceil(segment.from + margin);
    const to = Math.floor(segment.to - margin);
    const pixels: { x: number; y: number; lab: Lab; linear: [number, number, number]; off: number }[] = [];
    for (let x = from; x < to; x += stepX) {
      for (let y = x % stepY; y < height; y += stepY) {
        if (!cloth.cloth[y * width + x]) continue;
        const linear = evenedColour(cloth, reading.light, x, y);
        const lab = labFromLinear(linear);
        pixels.push({ x, y, lab, linear, off: cie76(lab, segment.lab) });
      }
    }
    if (pixels.length < 30) return [];
    const usual = pixels.map((p) => p.off).sort((a, b) => a - b)[Math.floor(0.4 * pixels.length)];
    const limit = Math.max(LEAST_OFF, SCATTERS * usual);
    const left = reading.segments[s - 1];
    const right = reading.segments[s + 1];
    const isBlur = (x: number, lab: Lab): boolean =>
      (left !== undefined && x - segment.from < BLUR_REACH && isBetween(lab, segment.lab, left.lab)) ||
      (right !== undefined && segment.to - x < BLUR_REACH && isBetween(lab, segment.lab, right.lab));
    const offAt = (x: number, y: number): number =>
      cie76(labFromLinear(evenedColour(cloth, reading.light, x, y)), segment.lab);
    const isOff = (x: number, y: number): boolean => offAt(x, y) > 0.6 * limit;
    const isLong = (x: number, y: number): boolean =>
      isOff(x, Math.max(0, y - NEAR)) || isOff(x, Math.min(height - 1, y + NEAR));
    // A row is several columns long: a bar across the stripes may be no higher than two.
    const isWide = (x: number, y: number): boolean =>
      x - NEAR >= from &&
      x + NEAR < to &&
      isOff(x - NEAR, y) &&
      isOff(x + NEAR, y) &&
      (isOff(x, Math.max(0, y - 1)) || isOff(x, Math.min(height - 1, y + 1)));
    return pixels.map(({ x, y, lab, linear, off }) => ({
      key,
      x,
      y,
      lab,
      linear,
      odd: off >= limit && !isBlur(x + 0.5, lab) && (isLong(x, y) || isWide(x, y)),
    }));
  });
}

/** Linear colour of a pixel of the straight picture with the light taken out. */
export function evenedColour(
  { picture: { width, data } }: StraightCloth,
  light: LightField,
  x: number,
  y: number,
): [number, number, number] {
  const gain = Math.exp(-logGainAt(light, x + 0.5, y + 0.5));
  const i = 3 * (y * width + x);
  return [
    linearFromByte[data[i]] * gain,
    linearFromByte[data[i + 1]] * gain,
    linearFromByte[data[i + 2]] * gain,
  ];
}
