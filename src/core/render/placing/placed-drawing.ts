import type { LengthUnit } from '../../base/length.js';
import type { Point } from '../../math/matrix3.js';
import { scaleBar } from '../scale-bar.js';
import {
  type CopyStyle,
  type DrawnCopy,
  drawCopy,
  drawMarks,
  type Matrix,
  throughMatrix,
} from './drawn-copy.js';

/** A copy and where it stands in a drawing whose y runs up, mm. */
export interface StandingCopy {
  readonly copy: DrawnCopy;
  readonly at: Matrix;
}

/** A part of a page, px. */
export interface PageBox {
  readonly x: number;
  readonly y: number;
  readonly width: number;
  readonly height: number;
}

/** Copies fitted into a box of the page, all at one scale; px to a mm is returned beside the drawing. */
export function drawStanding(
  standing: readonly StandingCopy[],
  box: PageBox,
  clipName: string,
  style: CopyStyle,
): { readonly body: string; readonly pxPerMm: number } {
  const places = standing.flatMap(({ copy, at }) => copy.outline.map((place) => throughMatrix(at, place)));
  const xs = places.map(([x]) => x);
  const ys = places.map(([, y]) => y);
  const [left, top] = [Math.min(...xs), Math.max(...ys)];
  const [width, height] = [Math.max(...xs) - left, top - Math.min(...ys)];
  const pxPerMm = Math.min(box.width / width, box.height / height);
  const x0 = box.x + (box.width - width * pxPerMm) / 2;
  const y0 = box.y + (box.height - height * pxPerMm) / 2;
  const onPage = standing.map(({ copy, at: [a, b, c, d, e, f] }): [DrawnCopy, Matrix] => [
    copy,
    [
      pxPerMm * a,
      -pxPerMm * b,
      pxPerMm * c,
      -pxPerMm * d,
      x0 + pxPerMm * (e - left),
      y0 + pxPerMm * (top - f),
    ],
  ]);
  const body = onPage.map(([copy, at], k) => drawCopy(copy, at, `${clipName}-${k}`, style)).join('');
  return { body: body + drawMarks(onPage, style), pxPerMm };
}

/** A bar of stated length at a corner of a drawing. */
export const barFor = (pxPerMm: number, at: Point, unit: LengthUnit): string =>
  scaleBar(at[0], at[1], 140 / pxPerMm, pxPerMm, unit, 5);
