import { describe, expect, it } from 'vitest';
import type { Raster } from '../../../src/core/raster/raster.js';
import { raster } from '../../../src/core/raster/raster.js';
import { angleAt } from '../../../src/core/rectify/fit-stripe-frame.js';
import { followStripes, frameFollowing } from '../../../src/core/rectify/follow-stripes.js';
import { straighten } from '../../../src/core/rectify/straighten.js';
import { type StripeFrame, straightFromPicture } from '../../../src/core/rectify/stripe-frame.js';
import { seededRandom } from '../../support/photo-painter/seeded-random.js';

const WIDTH = 900;
const HEIGHT = 700;
const DEGREE = Math.PI / 180;

const frameAt = (deg: number, terms: Partial<StripeFrame> = {}): StripeFrame => ({
  centreX: WIDTH / 2,
  centreY: HEIGHT / 2,
  angle: deg * DEGREE,
  converge: 0,
  bow: 0,
  lens: 0,
  ...terms,
});

/** 60 and 190 by turns, edges spread over some px. */
const wave = (at: number, period: number): number =>
  125 + 65 * Math.tanh(4 * Math.sin((2 * Math.PI * at) / period));

/** Stripes that run straight in the frame given; other stripes may cross, each adding its own. */
function picture(frame: StripeFrame, crossing: boolean): Raster<Uint8Array> {
  const random = seededRandom(4);
  const data = new Uint8Array(3 * WIDTH * HEIGHT);
  for (let y = 0; y < HEIGHT; y++) {
    for (let x = 0; x < WIDTH; x++) {
      const [u, v] = straightFromPicture(frame, x + 0.5, y + 0.5);
      const level = crossing ? (wave(u, 34) + wave(v + 0.06 * u, 52)) / 2 : wave(u, 34);
      const noisy = level + 3 * random.gaussian();
      data.fill(Math.max(0, Math.min(255, noisy)), 3 * (y * WIDTH + x), 3 * (y * WIDTH + x) + 3);
    }
  }
  return raster(WIDTH, HEIGHT, 3, data);
}

const straightenedOf = (source: Raster<Uint8Array>) => (frame: StripeFrame) =>
  straighten(source, 1, new Uint8Array(WIDTH * HEIGHT), frame, 5, 1, 14);

const degreesOff = (p: StripeFrame, q: StripeFrame, x: number, y: number): number =>
  Math.abs(angleAt(p, x, y) - angleAt(q, x, y)) / DEGREE;

describe('followStripes', () => {
  const truths = [
    ['upright', frameAt(90)],
    ['aslant', frameAt(37)],
    ['level', frameAt(4)],
    ['meeting far off, and bowed', frameAt(64, { converge: 1e-4, bow: 3e-5 })],
    ['under a lens', frameAt(118, { lens: 1.5e-7 })],
  ] as const;

  it.each(truths)('puts a frame right that is half a degree off: stripes %s', (_, truth) => {
    for (const crossing of [false, true]) {
      const straightened = straightenedOf(picture(truth, crossing));
      for (const offDeg of [-0.5, 0.2]) {
        const start = { ...truth, angle: truth.angle + offDeg * DEGREE };
        const frame = followStripes(start, straightened);
        for (const [x, y] of [
          [450, 350],
          [150, 100],
          [750, 600],
          [150, 600],
        ])
          expect(degreesOff(frame, truth, x, y), `at ${x}, ${y}`).toBeLessThan(0.04);
      }
    }
  });

  it('finds vanishing point, bow and lens by itself', () => {
    for (const [, truth] of truths.slice(3)) {
      const frame = followStripes(frameAt(truth.angle / DEGREE), straightenedOf(picture(truth, true)));
      for (const [x, y] of [
        [450, 350],
        [150, 100],
        [750, 600],
      ])
        expect(degreesOff(frame, truth, x, y), `at ${x}, ${y}`).toBeLessThan(0.08);
    }
  });

  it('leaves as it is what runs straight, and what shows nothing', () => {
    const truth = frameAt(64);
    const straight = straightenedOf(picture(truth, true))(truth);
    expect(frameFollowing(straight, truth)?.columns).toBeLessThan(0.4);
    const bare = raster(WIDTH, HEIGHT, 3, new Uint8Array(3 * WIDTH * HEIGHT).fill(120));
    expect(followStripes(truth, straightenedOf(bare))).toEqual(truth);
  });
});
