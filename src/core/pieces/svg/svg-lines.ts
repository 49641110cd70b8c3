import svgpath from 'svgpath';
import type { Point } from '../../math/matrix3.js';
import { type Affine, applied, centreOfArc, flattenedArc, flattenedBezier } from '../drawn/curves.js';
import type { DrawnLine } from '../drawn/join-lines.js';
import { userLength } from './svg-units.js';

/** The six numbers of a transform attribute; null where it is not understood. */
export function affineOf(transform: string): Affine | null {
  const text = transform.trim();
  if (text === '') return [1, 0, 0, 1, 0, 0];
  if (!/^((matrix|translate|scale|rotate|skewX|skewY)\s*\([-+\d.eE\s,]+\)[\s,]*)+$/.test(text)) return null;
  // What becomes of (0, 0), (1, 0) and (0, 1).
  const [o, x, y] = readPath(svgpath('M0 0L1 0L0 1').transform(text)).map(
    (step) => [step[1], step[2]] as unknown as Point,
  );
  const numbers = [x[0] - o[0], x[1] - o[1], y[0] - o[0], y[1] - o[1], o[0], o[1]];
  return numbers.every(Number.isFinite) ? (numbers as unknown as Affine) : null;
}

type Step = readonly [string, ...number[]];

function readPath(path: ReturnType<typeof svgpath>): Step[] {
  const steps: Step[] = [];
  // Transforms are carried out only while the path is gone through.
  path.iterate((segment) => {
    steps.push([...segment] as unknown as Step);
  });
  return steps;
}

/** The path data that draws a basic shape (SVG 2, section 10), or null when the element is none. */
export function pathDataOf(name: string, attribute: (name: string) => string | null): string | null {
  const n = (key: string): number => userLength(attribute(key));
  switch (name) {
    case 'path':
      return attribute('d') ?? '';
    case 'line':
      return `M${n('x1')} ${n('y1')}L${n('x2')} ${n('y2')}`;
    case 'polyline':
    case 'polygon': {
      const points = (attribute('points') ?? '').trim();
      return points === '' ? '' : `M${points}${name === 'polygon' ? 'Z' : ''}`;
    }
    case 'circle':
      return ellipseData(n('cx'), n('cy'), n('r'), n('r'));
    case 'ellipse':
      return ellipseData(n('cx'), n('cy'), n('rx'), n('ry'));
    case 'rect':
      return rectangleData(n('x'), n('y'), n('width'), n('height'), cornerRadii(attribute));
    default:
      return null;
  }
}

const ellipseData = (cx: number, cy: number, rx: number, ry: number): string =>
  `M${cx - rx} ${cy}A${rx} ${ry} 0 0 1 ${cx + rx} ${cy}A${rx} ${ry} 0 0 1 ${cx - rx} ${cy}Z`;

/** One radius stands for both where the other is missing; neither is more than half a side. */
function cornerRadii(attribute: (name: string) => string | null): readonly [number, number] {
  const given = (name: string): number | null =>
    attribute(name) === null ? null : userLength(attribute(name));
  const [rx, ry] = [given('rx') ?? given('ry') ?? 0, given('ry') ?? given('rx') ?? 0];
  return [
    Math.min(rx, userLength(attribute('width')) / 2),
    Math.min(ry, userLength(attribute('height')) / 2),
  ];
}

function rectangleData(
  x: number,
  y: number,
  w: number,
  h: number,
  [rx, ry]: readonly [number, number],
): string {
  if (!(rx > 0 && ry > 0)) return `M${x} ${y}H${x + w}V${y + h}H${x}Z`;
  const arc = (toX: number, toY: number): string => `A${rx} ${ry} 0 0 1 ${toX} ${toY}`;
  return `M${x + rx} ${y}H${x + w - rx}${arc(x + w, y + ry)}V${y + h - ry}${arc(x + w - rx, y + h)}H${x + rx}${arc(
    x,
    y + h - ry,
  )}V${y + ry}${arc(x + rx, y)}Z`;
}

/** Path data as lines in mm, given the map from user units; curves and arcs by chords. A text that says what is wrong with the data. */
export function linesOfPath(data: string, pageFromUser: Affine): DrawnLine[] | string {
  const path = svgpath(data);
  const { err } = path as unknown as { err: string };
  if (err) return err.replace(/^SvgPath: /, '');
  const steps = readPath(path.abs().unshort());
  const lines: { points: Point[]; closed: boolean }[] = [];
  let at: Point = [0, 0];
  let start: Point = at;
  let pen: { points: Point[]; closed: boolean } | null = null;
  const page = (p: Point): Point => applied(pageFromUser, p);
  /** After a closing, a line goes on from where the last one began. */
  const begun = (): { points: Point[]; closed: boolean } => {
    if (pen === null) {
      pen = { points: [page(at)], closed: false };
      lines.push(pen);
    }
    return pen;
  };
  for (const [letter, ...n] of steps) {
    if (letter === 'M') {
      at = [n[0], n[1]];
      start = at;
      pen = null;
      begun();
      continue;
    }
    const line = begun();
    if (letter === 'Z') {
      line.closed = true;
      at = start;
      pen = null;
      continue;
    }
    const to = endOf(letter, n, at);
    line.points.push(...pointsTo(letter, n, at, to, pageFromUser));
    at = to;
  }
  const bad = lines.some((line) => line.points.some((p) => !p.every(Number.isFinite)));
  return bad ? 'a coordinate is no number' : lines;
}

function endOf(letter: string, n: readonly number[], at: Point): Point {
  if (letter === 'H') return [n[0], at[1]];
  if (letter === 'V') return [at[0], n[0]];
  return [n[n.length - 2], n[n.length - 1]];
}

function pointsTo(letter: string, n: readonly number[], at: Point, to: Point, pageFromUser: Affine): Point[] {
  const page = (p: Point): Point => applied(pageFromUser, p);
  if (letter === 'C')
    return flattenedBezier([at, [n[0], n[1]], [n[2], n[3]], to].map((p) => page(p as Point)));
  if (letter === 'Q') return flattenedBezier([at, [n[0], n[1]], to].map((p) => page(p as Point)));
  if (letter === 'A') {
    const arc = centreOfArc({
      from: at,
      to,
      radii: [n[0], n[1]],
      turnDeg: n[2],
      large: n[3] !== 0,
      positive: n[4] !== 0,
    });
    if (arc !== null) {
      const points = flattenedArc(arc, pageFromUser);
      points[points.length - 1] = page(to);
      return points;
    }
  }
  return [page(to)];
}
