import type { Point } from '../../model/band-model.js';
import { strokeText, textWidth } from '../stroke-text.js';
import { element } from '../svg.js';

export interface Plate {
  readonly box: Box;
  readonly svg: string;
}

export interface Box {
  readonly x: number;
  readonly y: number;
  readonly width: number;
  readonly height: number;
}

/** Words on a white plate, its middle at (x, y), kept inside the photo. */
export function plate(
  text: string,
  [x, y]: Point,
  size: number,
  colour: string,
  [width, height]: readonly [number, number],
): Plate {
  const w = textWidth(text, size) + 1.2 * size;
  const h = 2 * size;
  const left = Math.max(0, Math.min(width - w, x - w / 2));
  const top = Math.max(0, Math.min(height - h, y - h / 2));
  const svg =
    element('rect', {
      x: left,
      y: top,
      width: w,
      height: h,
      rx: 0.4 * size,
      fill: '#ffffff',
      'fill-opacity': 0.92,
      stroke: colour,
      'stroke-width': 0.1 * size,
    }) + strokeText(text, left + w / 2, top + 1.5 * size, { size, anchor: 'middle', colour, weight: 0.15 });
  return { box: { x: left, y: top, width: w, height: h }, svg };
}

export const overlap = (a: Box, b: Box): boolean =>
  a.x < b.x + b.width && b.x < a.x + a.width && a.y < b.y + b.height && b.y < a.y + a.height;
