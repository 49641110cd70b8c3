import { describe, expect, it } from 'vitest';
import { angleAt } from '../../../src/core/rectify/fit-stripe-frame.js';
import {
  pictureFromStraight,
  type StripeFrame,
  straightFromPicture,
} from '../../../src/core/rectify/stripe-frame.js';

const frame: StripeFrame = {
  centreX: 2000,
  centreY: 1500,
  angle: 2.1,
  converge: 4e-5,
  bow: 1.2e-5,
  lens: 3e-9,
};

describe('straight coordinates', () => {
  it('come back to where they started', () => {
    for (const [u, v] of [
      [0, 0],
      [1500, -900],
      [-1800, 1200],
      [300, 1400],
    ]) {
      const [x, y] = pictureFromStraight(frame, u, v);
      const back = straightFromPicture(frame, x, y);
      expect(Math.hypot(back[0] - u, back[1] - v)).toBeLessThan(1e-8);
    }
  });

  it('are picture px, turned, at the centre', () => {
    const p = pictureFromStraight(frame, 1, 0);
    const q = pictureFromStraight(frame, 0, 1);
    expect(Math.hypot(p[0] - 2000, p[1] - 1500)).toBeCloseTo(1, 9);
    // v as seen: counter-clockwise from +x, y down.
    expect(Math.atan2(-(q[1] - 1500), q[0] - 2000)).toBeCloseTo(2.1, 4);
  });

  it('meet at the vanishing point when nothing bends', () => {
    const fan = { ...frame, bow: 0, lens: 0 };
    const far = [-800, 0, 900].map((u) => pictureFromStraight(fan, u, 1e9));
    const vx = 2000 + Math.cos(2.1) / 4e-5;
    const vy = 1500 - Math.sin(2.1) / 4e-5;
    for (const [x, y] of far) expect(Math.hypot(x - vx, y - vy)).toBeLessThan(1);
  });

  it('run in the direction that the fit of directions assumes', () => {
    for (const [u, v] of [
      [0, 0],
      [1200, -700],
      [-1500, 900],
    ]) {
      const a = pictureFromStraight(frame, u, v - 0.5);
      const b = pictureFromStraight(frame, u, v + 0.5);
      const seen = Math.atan2(-(b[1] - a[1]), b[0] - a[0]);
      const [x, y] = pictureFromStraight(frame, u, v);
      expect(Math.abs(angleAt(frame, x, y) - seen)).toBeLessThan(2e-3);
    }
  });
});
