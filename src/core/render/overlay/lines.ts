import type { Point } from '../../model/band-model.js';
import { INK } from '../ink.js';
import { element, num } from '../svg.js';

/** Each kind of line has its own colour and its own dash, so that neither is needed to tell them apart. */
export const LINES = {
  edge: { colour: INK, dash: null },
  repeat: { colour: '#0a46a6', dash: [9, 5] },
  number: { colour: '#0a46a6', dash: null },
  zero: { colour: '#00605f', dash: [16, 4, 3, 4, 3, 4] },
  reference: { colour: '#a83c00', dash: [2, 4] },
  cell: { colour: '#7a1f8f', dash: [14, 4] },
  intrusion: { colour: '#7a1f8f', dash: null },
  clean: { colour: '#0b6b3a', dash: null },
  region: { colour: '#7a1a80', dash: [14, 4, 3, 4] },
  direction: { colour: '#7a1a80', dash: null },
} as const;
export type LineKind = keyof typeof LINES;

export const openPath = (points: readonly Point[]): string =>
  points.map(([x, y], k) => `${k === 0 ? 'M' : 'L'}${num(x)} ${num(y)}`).join('');

export const closedPaths = (shapes: readonly (readonly Point[])[], shown: (p: Point) => Point): string =>
  shapes.map((shape) => `${openPath(shape.map(shown))}Z`).join('');

/**
 * Paths drawn twice: all white casings, then the lines themselves. dashUnit: length of one unit of the dash. Hundreds of lines in one
 * path take a renderer several times as long as one path each.
 */
export function lines(kind: LineKind, d: string | readonly string[], width: number, dashUnit = 0): string {
  const paths = (typeof d === 'string' ? [d] : d)
    .filter((one) => one !== '')
    .map((one) => element('path', { d: one }))
    .join('');
  if (paths === '') return '';
  const { colour, dash } = LINES[kind];
  const shape = { fill: 'none', 'stroke-linejoin': 'round' };
  const dashes: Record<string, string> =
    dash && dashUnit > 0 ? { 'stroke-dasharray': dash.map((part) => num(part * dashUnit)).join(' ') } : {};
  return (
    element('g', { ...shape, stroke: '#ffffff', 'stroke-opacity': 0.9, 'stroke-width': 2.4 * width }, paths) +
    element('g', { ...shape, stroke: colour, 'stroke-width': width, ...dashes }, paths)
  );
}

export function arrowBothWays([a, b]: readonly Point[], head: number): string {
  const length = Math.hypot(b[0] - a[0], b[1] - a[1]);
  const along: Point = [(b[0] - a[0]) / length, (b[1] - a[1]) / length];
  return openPath([a, b]) + arrowHead(a, along, 1, head) + arrowHead(b, along, -1, head);
}

/** `way`: 1 where the head's barbs point along, -1 against. */
function arrowHead(tip: Point, along: Point, way: number, head: number): string {
  const back = (side: number): Point => [
    tip[0] + way * head * along[0] - side * 0.45 * head * along[1],
    tip[1] + way * head * along[1] + side * 0.45 * head * along[0],
  ];
  return openPath([back(1), tip, back(-1)]);
}
