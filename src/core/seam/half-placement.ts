import type { HalfOnCloth } from '../model/half-on-cloth.js';
import type { Lay, PointOfV } from './lay.js';
import { cosDeg, sinDeg } from './seam-lengths.js';

/** A point of the seam and the place on the cloth that shall lie there. */
export interface Anchor {
  /** Down the seam from its top. */
  readonly atMm: number;
  readonly uMm: number;
  readonly vMm: number;
}

/** On the left half u grows down the seam: u = u0 + s sin(angle). */
export function leftOnCloth(angleDeg: number, point: PointOfV, anchor: Anchor): HalfOnCloth {
  const sin = sinDeg(angleDeg);
  const cos = cosDeg(angleDeg) * (point === 'down' ? 1 : -1);
  return through(anchor, -cos, sin, sin, cos);
}

/** The right half: the left one's mirror image or continuation, as the lay says. */
export function rightOnCloth(angleDeg: number, point: PointOfV, lay: Lay, anchor: Anchor): HalfOnCloth {
  const sin = sinDeg(angleDeg);
  const cos = cosDeg(angleDeg) * (point === 'down' ? 1 : -1);
  switch (lay) {
    case 'head-to-tail':
      return through(anchor, cos, sin, sin, -cos);
    case 'same-way':
      return through(anchor, -cos, -sin, -sin, cos);
    case 'wrong-side':
      return through(anchor, cos, sin, -sin, cos);
    case 'run-on':
      return through(anchor, -cos, sin, sin, cos);
  }
}

const through = (
  anchor: Anchor,
  uPerX: number,
  uPerY: number,
  vPerX: number,
  vPerY: number,
): HalfOnCloth => ({
  uMm: anchor.uMm - uPerY * anchor.atMm,
  uPerX,
  uPerY,
  vMm: anchor.vMm - vPerY * anchor.atMm,
  vPerX,
  vPerY,
});
