import type { Point } from '../../math/matrix3.js';
import { type Affine, applied, flattenedArc } from '../drawn/curves.js';
import type { DrawnLine } from '../drawn/join-lines.js';
import type { PolylineVertex } from './entity-handlers.js';
import { flattenedSpline } from './spline.js';

interface Place {
  readonly x: number;
  readonly y: number;
}

/** What is read of an entity, all kinds in one. Lengths in the file's unit, angles as the parser gives them. */
export interface DxfEntity {
  readonly type: string;
  readonly layer?: string;
  readonly vertices?: readonly (PolylineVertex & { splineControlPoint?: boolean })[];
  readonly shape?: boolean;
  readonly center?: Place;
  readonly radius?: number;
  readonly startAngle?: number;
  readonly endAngle?: number;
  readonly majorAxisEndPoint?: Place;
  readonly axisRatio?: number;
  readonly controlPoints?: readonly Place[];
  readonly fitPoints?: readonly Place[];
  readonly knotValues?: readonly number[];
  readonly degreeOfSplineCurve?: number;
  readonly closed?: boolean;
  readonly rational?: boolean;
  readonly position?: Place;
  readonly startPoint?: Place;
  readonly text?: string;
  readonly name?: string;
  readonly xScale?: number;
  readonly yScale?: number;
  readonly rotation?: number;
  readonly extrusionDirection?: { readonly z: number };
  readonly extrusionDirectionZ?: number;
  readonly inPaperSpace?: boolean;
}

const TURN = 2 * Math.PI;

/**
 * Entities drawn by mirroring may keep their own numbers and say that they are seen from behind: then x runs the other way (DXF reference, "Arbitrary
 * axis algorithm", for the direction (0, 0, -1)).
 */
export const seenFromBehind = (entity: DxfEntity): boolean =>
  (entity.extrusionDirection?.z ?? entity.extrusionDirectionZ ?? 1) < 0;

/** An entity as a line in mm, given the map into mm; null when it is no line, a text when it is one that cannot be read. */
export function lineOfEntity(entity: DxfEntity, mmFromFile: Affine): DrawnLine | null | string {
  const map: Affine = seenFromBehind(entity)
    ? [-mmFromFile[0], -mmFromFile[1], mmFromFile[2], mmFromFile[3], mmFromFile[4], mmFromFile[5]]
    : mmFromFile;
  const page = ({ x, y }: Place): Point => applied(map, [x, y]);
  const { center: centre, vertices, radius = 0 } = entity;
  switch (entity.type) {
    case 'LINE':
      // Ends of a line are told as the world has them, whichever side it is seen from.
      return vertices?.length === 2
        ? { points: vertices.map(({ x, y }) => applied(mmFromFile, [x, y])), closed: false }
        : null;
    case 'LWPOLYLINE':
    case 'POLYLINE':
      return polyline(vertices ?? [], entity.shape ?? false, map);
    case 'CIRCLE':
      return centre === undefined ? null : arcLine(centre, [radius, radius], 0, [0, TURN], map);
    case 'ARC': {
      const [from, to] = [entity.startAngle ?? 0, entity.endAngle ?? TURN];
      return centre === undefined ? null : arcLine(centre, [radius, radius], 0, [from, to], map);
    }
    case 'ELLIPSE': {
      const major = entity.majorAxisEndPoint;
      if (centre === undefined || major === undefined) return null;
      const length = Math.hypot(major.x, major.y);
      const turn = Math.atan2(major.y, major.x);
      const radii = [length, length * (entity.axisRatio ?? 1)] as const;
      return arcLine(centre, radii, turn, [entity.startAngle ?? 0, entity.endAngle ?? TURN], map);
    }
    case 'SPLINE':
      return splineLine(entity, page);
    default:
      return null;
  }
}

/** Straight edges, and arcs where a point has a bulge. Frame points of a spline are not on its line. */
function polyline(all: NonNullable<DxfEntity['vertices']>, closed: boolean, map: Affine): DrawnLine | null {
  const vertices = all.filter((vertex) => vertex.splineControlPoint !== true);
  if (vertices.length < 2) return null;
  const points: Point[] = [applied(map, [vertices[0].x, vertices[0].y])];
  const edges = closed ? vertices.length : vertices.length - 1;
  for (let i = 0; i < edges; i++) {
    const from = vertices[i];
    const to = vertices[(i + 1) % vertices.length];
    points.push(...bulgePoints(from, to, map), applied(map, [to.x, to.y]));
  }
  if (closed) points.pop();
  return { points, closed };
}

/**
 * Points between two that a bulge joins by an arc: with b the tangent of a quarter of the arc's angle, the centre lies (1 - b^2) / (4 b) of the chord
 * to the left of its middle.
 */
function bulgePoints(from: PolylineVertex, to: PolylineVertex, map: Affine): Point[] {
  const bulge = from.bulge ?? 0;
  const [dx, dy] = [to.x - from.x, to.y - from.y];
  if (bulge === 0 || (dx === 0 && dy === 0)) return [];
  const aside = (1 - bulge * bulge) / (4 * bulge);
  const centre: Point = [(from.x + to.x) / 2 - aside * dy, (from.y + to.y) / 2 + aside * dx];
  const radius = (Math.hypot(dx, dy) * (1 + bulge * bulge)) / (4 * Math.abs(bulge));
  const start = Math.atan2(from.y - centre[1], from.x - centre[0]);
  const arc = { centre, radii: [radius, radius] as const, turn: 0, from: start, sweep: 4 * Math.atan(bulge) };
  return flattenedArc(arc, map).slice(0, -1);
}

/** Counter-clockwise from one angle to the other, all round where they are the same. */
function arcLine(
  centre: Place,
  radii: readonly [number, number],
  turn: number,
  [start, end]: readonly [number, number],
  map: Affine,
): DrawnLine {
  const span = (((end - start) % TURN) + TURN) % TURN;
  // An arc of no angle is one of all angles, within what files round angles to.
  const sweep = span < 1e-9 ? TURN : span;
  const closed = sweep > TURN - 1e-9;
  const arc = { centre: [centre.x, centre.y] as const, radii, turn, from: start, sweep };
  const cos = Math.cos(start) * radii[0];
  const sin = Math.sin(start) * radii[1];
  const first = applied(map, [
    centre.x + cos * Math.cos(turn) - sin * Math.sin(turn),
    centre.y + cos * Math.sin(turn) + sin * Math.cos(turn),
  ]);
  const points = [first, ...flattenedArc(arc, map)];
  return { points: closed ? points.slice(0, -1) : points, closed };
}

function splineLine(entity: DxfEntity, page: (place: Place) => Point): DrawnLine | string {
  const { controlPoints, knotValues, degreeOfSplineCurve: degree, closed = false } = entity;
  if (entity.rational) return 'a spline with weights, which is not read: save it as a polyline';
  if (controlPoints === undefined || knotValues === undefined || degree === undefined) {
    return 'a spline without control points, which is not read: save it as a polyline';
  }
  const points = flattenedSpline(controlPoints.map(page), knotValues, degree);
  if (points === null) return 'a spline whose knots do not fit its control points';
  return { points, closed: closed && points.length > 2 && samePlace(points[0], points[points.length - 1]) };
}

const samePlace = (p: Point, q: Point): boolean => Math.hypot(p[0] - q[0], p[1] - q[1]) < 1e-6;
