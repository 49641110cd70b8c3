import type { Point } from '../../math/matrix3.js';
import { extentOf, type Outline } from '../../pieces/geometry/outline.js';
import { partBeside } from '../../pieces/geometry/polygons.js';
import type { LaidItem } from '../phase/laid-problem.js';

/** A strip is so many times as long as wide: what is shorter is seen as a whole, and a join in it as a fault. */
const STRIP_RATIO = 5;

/** Allowance on either side of the join, mm: common practice for a joined strip. */
const ALLOWANCE_MM = 10;

/** Where along the strip it is joined, tried in this order: near an end it is hidden best, under a knot or a fold. */
const JOINED_AT = [1 / 4, 3 / 4, 1 / 3, 2 / 3, 1 / 2] as const;

/** An item in two parts, and where along its length the join lies. */
export interface JoinedStrip {
  readonly parts: readonly [LaidItem, LaidItem];
  /** From the end that lies lower or further left in the piece frame. */
  readonly atMm: number;
}

/**
 * The ways to cut a long narrow item as two, with a join at 45 degrees across it, allowance on both: none for an item that is no strip. Both parts keep the
 * item's place on the stripes, so that those run on through the join.
 */
export function joinedStrips(item: LaidItem): JoinedStrip[] {
  const { left, right, bottom, top } = extentOf(item.cutting);
  const isUpright = top - bottom >= right - left;
  const [length, width] = isUpright ? [top - bottom, right - left] : [right - left, top - bottom];
  if (length < STRIP_RATIO * width || item.isPart) return [];
  return JOINED_AT.flatMap((part): JoinedStrip[] => {
    const middle: Point = isUpright
      ? [(left + right) / 2, bottom + part * length]
      : [left + part * length, (bottom + top) / 2];
    // The way of the join, and the way across it towards the far end.
    const along: Point = [Math.SQRT1_2, Math.SQRT1_2];
    const across: Point = isUpright ? [-Math.SQRT1_2, Math.SQRT1_2] : [Math.SQRT1_2, -Math.SQRT1_2];
    const near = cut(item.cutting, moved(middle, across, ALLOWANCE_MM), along, across, -1);
    const far = cut(item.cutting, moved(middle, across, -ALLOWANCE_MM), along, across, 1);
    if (near.length < 3 || far.length < 3) return [];
    const partOf = (cutting: Outline): LaidItem => ({ ...item, cutting, isPart: true });
    return [{ parts: [partOf(near), partOf(far)], atMm: part * length }];
  });
}

const moved = ([x, y]: Point, [dx, dy]: Point, by: number): Point => [x + by * dx, y + by * dy];

/** The part of an outline on one side of a line. */
const cut = (outline: Outline, at: Point, along: Point, across: Point, side: 1 | -1): Point[] =>
  partBeside(outline, at, moved(at, along, 1), moved(at, across, side));
