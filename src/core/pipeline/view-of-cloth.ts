import type { Point } from '../model/band-model.js';
import { type CameraPlane, clothMap } from '../rectify/camera-plane.js';

/** Where the cloth shows in the photo. Cloth frame of the model: u counted from its origin, bow taken out; mm. */
export interface ViewOfCloth {
  /** Photo px of a cloth place. */
  readonly photoFromCloth: (uMm: number, vMm: number) => Point;
  /** [u, v] of a place in the photo. */
  readonly clothFromPhoto: (place: Point) => Point;
  /** Stretch of v in view at a u; null where it is less than 2 mm. */
  readonly alongAt: (uMm: number) => [number, number] | null;
  /** Stretch of u in view at a v; null likewise. */
  readonly acrossAt: (vMm: number) => [number, number] | null;
  readonly widthPx: number;
  readonly heightPx: number;
  /** Of nothing in view is u or v further from 0, mm. */
  readonly reachMm: number;
}

/** photoPerPicture: photo px to one px of the picture that was measured. */
export function viewOfCloth(
  camera: CameraPlane,
  bowPerMm: number,
  originUMm: number,
  photoPerPicture: number,
): ViewOfCloth {
  const { pictureFromCloth, clothFromPicture } = clothMap(camera);
  const { widthPx, heightPx } = camera;
  const pictureAt = (u: number, v: number): readonly [number, number] =>
    pictureFromCloth(u + originUMm + bowPerMm * v * v, v);
  const isInside = ([x, y]: readonly [number, number]): boolean =>
    x > 0 && y > 0 && x < widthPx && y < heightPx;
  const corners = [
    [0, 0],
    [widthPx, 0],
    [0, heightPx],
    [widthPx, heightPx],
  ].map(([x, y]) => clothFromPicture(x, y));
  const reachMm =
    1.2 * Math.max(...corners.map(([u, v]) => Math.hypot(u - originUMm, v) + Math.abs(originUMm)));
  return {
    photoFromCloth: (u, v) => {
      const [x, y] = pictureAt(u, v);
      return [x * photoPerPicture, y * photoPerPicture];
    },
    clothFromPhoto: ([x, y]) => {
      const [u, v] = clothFromPicture(x / photoPerPicture, y / photoPerPicture);
      return [u - originUMm - bowPerMm * v * v, v];
    },
    alongAt: (u) => stretchInView((v) => isInside(pictureAt(u, v)), reachMm),
    acrossAt: (v) => stretchInView((u) => isInside(pictureAt(u, v)), reachMm),
    widthPx: widthPx * photoPerPicture,
    heightPx: heightPx * photoPerPicture,
    reachMm,
  };
}

/** Places tried along a line before its ends are narrowed down. */
const STEPS = 200;
/** Shorter stretches are no use to anybody. */
const LEAST_MM = 2;

/** The first and last place in view from -reach to reach, to a hundredth of a mm. */
function stretchInView(isSeen: (t: number) => boolean, reachMm: number): [number, number] | null {
  const step = (2 * reachMm) / STEPS;
  let first = Number.NaN;
  let last = Number.NaN;
  for (let i = 0; i <= STEPS; i++) {
    const t = i * step - reachMm;
    if (!isSeen(t)) continue;
    if (Number.isNaN(first)) first = t;
    last = t;
  }
  if (Number.isNaN(first)) return null;
  const from = borderBetween(isSeen, first, first - step);
  const to = borderBetween(isSeen, last, last + step);
  return to - from < LEAST_MM ? null : [from, to];
}

function borderBetween(isSeen: (t: number) => boolean, seen: number, unseen: number): number {
  let [a, b] = [seen, unseen];
  while (Math.abs(a - b) > 0.01) {
    const middle = (a + b) / 2;
    if (isSeen(middle)) a = middle;
    else b = middle;
  }
  return a;
}
