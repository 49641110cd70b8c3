import type { Point } from '../../math/matrix3.js';
import { bridgeNotches } from './bridge-notches.js';
import { type Corner, findCorners } from './find-corners.js';
import { fitSides } from './fit-sides.js';
import { withoutLoops } from './without-loops.js';

/** The shape of a piece, mm in its plane, counter-clockwise. */
export interface TracedOutline {
  readonly outline: readonly Point[];
  readonly corners: readonly Corner[];
  /** Where something no larger than a notch was cut into the edge, on the outline or near it. */
  readonly notches: readonly Point[];
  /** Scatter of the traced places about the outline, mm. */
  readonly scatterMm: number;
}

/** From places along the edge, in order and clockwise as seen from the side that is up, to the shape: notches bridged, corners sharp. */
export function outlineOf(placesMm: readonly Point[]): TracedOutline {
  const { points, notches } = bridgeNotches([...placesMm].reverse());
  const corners = findCorners(points);
  const sides = fitSides(points, corners);
  const longest = Math.max(...sides.map((side) => side.points.length));
  const outline = withoutLoops(sides.flatMap((side) => side.points));
  const kept = new Set(outline);
  return {
    outline,
    // Those that went with a loop are none.
    corners: corners.filter(({ at }) => kept.has(at)),
    notches,
    scatterMm: Math.max(
      ...sides.filter((side) => side.points.length >= longest / 4).map((side) => side.scatterMm),
      0,
    ),
  };
}
