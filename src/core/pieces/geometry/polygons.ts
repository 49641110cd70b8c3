import { Clipper, EndType, FillRule, JoinType, PointInPolygonResult } from 'clipper2-ts';
import type { Point } from '../../math/matrix3.js';
import { areaMm2, extentOf, type Outline, sideOfLineMm } from './outline.js';

/**
 * Everything that is asked of the polygon library, a port of Clipper2 (https://www.angusj.com/clipper2). It counts in whole numbers: here of
 * 0.1 micrometre, so that products of coordinates of 10 m are still whole in a double.
 */
const DECIMALS = 4;

/** A corner is mitred as long as its tip lies no further from the stitching line's corner than so many allowances; beyond, it is cut square. */
const MITRE_LIMIT = 2.5;

/** Round ends and corners are drawn so near to round. */
const ARC_TOLERANCE_MM = 0.005;

type Path = { x: number; y: number }[];
const pathOf = (outline: Outline): Path => outline.map(([x, y]) => ({ x, y }));
const outlineOf = (path: readonly { x: number; y: number }[]): Point[] => path.map(({ x, y }) => [x, y]);

/** The greatest of several outlines: holes and slivers that an operation leaves are no cutting line. */
const greatest = (paths: readonly Path[]): Point[] =>
  paths.map(outlineOf).reduce<Point[]>((most, one) => (areaMm2(one) > areaMm2(most) ? one : most), []);

/** An outline moved out by so much (in, where negative), its corners mitred or cut square. Empty where nothing is left. */
export function offsetOutline(outline: Outline, byMm: number): Point[] {
  if (!Number.isFinite(byMm)) throw new RangeError(`offset: expected a length in mm, received ${byMm}`);
  if (byMm === 0) return outline.map((p) => p);
  return greatest(
    Clipper.inflatePathsD([pathOf(outline)], byMm, JoinType.Miter, EndType.Polygon, MITRE_LIMIT, DECIMALS),
  );
}

/** All places within byMm of an outline, its corners round: no part of it is cut off, and arcs stand out by no more than the tolerance. */
export function roundedOutset(outline: Outline, byMm: number, toleranceMm: number): Point[] {
  // Arcs are drawn by chords that lie inside by as much as the tolerance.
  return greatest(
    Clipper.inflatePathsD(
      [pathOf(outline)],
      byMm + toleranceMm,
      JoinType.Round,
      EndType.Polygon,
      MITRE_LIMIT,
      DECIMALS,
      toleranceMm,
    ),
  );
}

/** Area that two outlines have in common, mm2. */
export const sharedAreaMm2 = (one: Outline, other: Outline): number =>
  Math.abs(
    Clipper.areaPathsD(Clipper.intersectD([pathOf(one)], [pathOf(other)], FillRule.NonZero, DECIMALS)),
  );

/** Outlines that overlap, as one. */
export const unitedOutline = (outlines: readonly Outline[]): Point[] =>
  greatest(Clipper.unionD(outlines.map(pathOf), [], FillRule.NonZero, DECIMALS));

/** Area of what one outline has outside another, mm2. */
export const areaOutsideMm2 = (inner: Outline, outer: Outline): number =>
  Math.abs(
    Clipper.areaPathsD(Clipper.differenceD([pathOf(inner)], [pathOf(outer)], FillRule.NonZero, DECIMALS)),
  );

/** The part of an outline on the same side of the line through a and b as a given point of it. */
export function partBeside(outline: Outline, a: Point, b: Point, inside: Point): Point[] {
  const { left, right, bottom, top } = extentOf([...outline, a, b]);
  const reach = 2 * (right - left + top - bottom);
  const length = Math.hypot(b[0] - a[0], b[1] - a[1]);
  const along: Point = [((b[0] - a[0]) / length) * reach, ((b[1] - a[1]) / length) * reach];
  const side = Math.sign(sideOfLineMm(inside, a, b));
  const across: Point = [-along[1] * side, along[0] * side];
  const low: Point = [a[0] - along[0], a[1] - along[1]];
  const high: Point = [a[0] + along[0], a[1] + along[1]];
  const box: Point[] = [
    low,
    high,
    [high[0] + across[0], high[1] + across[1]],
    [low[0] + across[0], low[1] + across[1]],
  ];
  return greatest(Clipper.intersectD([pathOf(outline)], [pathOf(box)], FillRule.NonZero, DECIMALS));
}

/** Whether a point lies inside an outline or on it. */
export const contains = (outline: Outline, [x, y]: Point): boolean =>
  Clipper.pointInPolygonD({ x, y }, pathOf(outline), DECIMALS) !== PointInPolygonResult.IsOutside;

/** The same outline with fewer points, none of the left out further than so many mm from what is left. */
export const simplifiedOutline = (outline: Outline, toleranceMm: number): Point[] =>
  outlineOf(Clipper.simplifyPathD(pathOf(outline), toleranceMm, true));

/** The parts of an outline no further than so many mm from a line, round its ends and corners too: outer outlines and holes, which run the other way. */
export const partsNearLine = (outline: Outline, line: readonly Point[], withinMm: number): Point[][] => {
  const band = Clipper.inflatePathsD(
    [pathOf(line)],
    withinMm,
    JoinType.Round,
    EndType.Round,
    MITRE_LIMIT,
    DECIMALS,
    ARC_TOLERANCE_MM,
  );
  return Clipper.intersectD([pathOf(outline)], band, FillRule.NonZero, DECIMALS).map(outlineOf);
};
