import type { Point } from '../math/matrix3.js';

/**
 * Straight coordinates in picture px: u across the stripes and v along them, origin at the picture's centre, equal to
 * picture px there. Stripes run along u = const. Covers what bends and fans stripes in a photo: a vanishing point
 * (`converge`), bow of the cloth (`bow`) and lens curvature (`lens`), the last two as small terms in v^2.
 */
export interface StripeFrame {
  readonly centreX: number;
  readonly centreY: number;
  /** Direction of the stripes in the picture, radians, counter-clockwise as seen, in [0, pi). */
  readonly angle: number;
  /** Inverse distance of the vanishing point along v, 1/px. */
  readonly converge: number;
  /** 1/px. */
  readonly bow: number;
  /** 1/px^2. */
  readonly lens: number;
}

/** The same stripes seen from the other end: u and v both run the other way. */
export const turnedRound = (frame: StripeFrame): StripeFrame => ({
  ...frame,
  angle: frame.angle + Math.PI,
  converge: -frame.converge,
  bow: -frame.bow,
});

export function pictureFromStraight(frame: StripeFrame, u: number, v: number): Point {
  const cos = Math.cos(frame.angle);
  const sin = Math.sin(frame.angle);
  const half = (v * v) / 2;
  const w = 1 + frame.converge * v;
  const across = (u * (1 + frame.lens * half) + frame.bow * half) / w;
  const along = v / w;
  return [frame.centreX + across * sin + along * cos, frame.centreY + across * cos - along * sin];
}

export function straightFromPicture(frame: StripeFrame, x: number, y: number): Point {
  const cos = Math.cos(frame.angle);
  const sin = Math.sin(frame.angle);
  const dx = x - frame.centreX;
  const dy = y - frame.centreY;
  const across = dx * sin + dy * cos;
  const along = dx * cos - dy * sin;
  const v = along / (1 - frame.converge * along);
  const half = (v * v) / 2;
  const u = (across * (1 + frame.converge * v) - frame.bow * half) / (1 + frame.lens * half);
  return [u, v];
}
