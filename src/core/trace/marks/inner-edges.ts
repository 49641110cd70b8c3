import type { Point } from '../../math/matrix3.js';
import { robustSd } from '../../math/robust.js';
import { sampleBilinear } from '../../raster/sample.js';
import type { Corner } from '../outline/find-corners.js';
import { type FlatSheet, sheetFromPlane } from './flat-sheet.js';

/** Turns inwards of an outline that two sheets' edges may make where they cross, degrees. */
const INWARDS_DEG = -24;
/** The edge of the upper sheet is looked for over this much beyond such a corner, mm. */
const FROM_MM = 4;
const TO_MM = 16;
/** Paper either side of it, mm, and how far off the line carried on it may lie. */
const SIDE_MM = 1.2;
const OFF_MM = 1.2;
/** Least step from one sheet to the other, with the shadow between, 8-bit levels, and how many times the paper's own. */
const LEAST_STEP = 3.5;
const TIMES_NOISE = 4;

/**
 * Corners at which a side of the outline runs on inside it: where one sheet lies on another, the upper one's edge shows as a step or a
 * shadow. Two of them, and the outline is that of two sheets.
 */
export function runningOn(sheet: FlatSheet, outline: readonly Point[], corners: readonly Corner[]): Corner[] {
  return corners.filter(({ at, turnDeg }) => {
    if (turnDeg > INWARDS_DEG) return false;
    const k = nearestIndex(outline, at);
    const n = outline.length;
    return isEdge(sheet, at, wayFrom(outline, k, -1, n)) || isEdge(sheet, at, wayFrom(outline, k, 1, n));
  });
}

function nearestIndex(outline: readonly Point[], [x, y]: Point): number {
  let best = 0;
  outline.forEach((p, k) => {
    if (Math.hypot(p[0] - x, p[1] - y) < Math.hypot(outline[best][0] - x, outline[best][1] - y)) best = k;
  });
  return best;
}

/** The way from some mm back along the outline to its corner: carried on, it leads inside. */
function wayFrom(outline: readonly Point[], k: number, step: number, n: number): Point {
  const [x, y] = outline[k];
  let j = k;
  do j = (j + step + n) % n;
  while (Math.hypot(outline[j][0] - x, outline[j][1] - y) < 6 && j !== k);
  const length = Math.hypot(x - outline[j][0], y - outline[j][1]) || 1;
  return [(x - outline[j][0]) / length, (y - outline[j][1]) / length];
}

/** Whether the paper changes all along a line from a place, all in one sense. */
function isEdge(sheet: FlatSheet, [x, y]: Point, [dx, dy]: Point): boolean {
  const at = (t: number, o: number): number => {
    const [px, py] = sheetFromPlane(sheet, [x + t * dx - o * dy, y + t * dy + o * dx]);
    return sampleBilinear(sheet.luma, sheet.width, sheet.height, px, py);
  };
  const steps: number[] = [];
  const usual: number[] = [];
  for (let t = FROM_MM; t <= TO_MM; t += 0.5) {
    let best = 0;
    for (let o = -OFF_MM; o <= OFF_MM; o += 0.4) {
      const step = at(t, o + SIDE_MM) - at(t, o - SIDE_MM);
      if (Math.abs(step) > Math.abs(best)) best = step;
    }
    steps.push(best);
    for (const o of [-5, -4, 4, 5]) usual.push(at(t, o + SIDE_MM) - at(t, o - SIDE_MM));
  }
  const least = Math.max(LEAST_STEP, TIMES_NOISE * robustSd(usual));
  const up = steps.filter((v) => v > least).length;
  const down = steps.filter((v) => v < -least).length;
  return Math.max(up, down) > 0.8 * steps.length;
}
