import type { Point } from '../../math/matrix3.js';
import { median, robustSd } from '../../math/robust.js';
import { sampleBilinear } from '../../raster/sample.js';
import { evenly } from '../outline/edge-samples.js';
import { type FlatSheet, sheetFromPlane } from './flat-sheet.js';

/** Places along the outline and depths below it that are looked at, mm. */
const STEP_MM = 0.5;
const FROM_MM = 1.2;
const TO_MM = 11;
/** A mark reaches in from the edge at least to here; what reaches beyond the second is a line across the piece, or a dart. */
const LEAST_DEEP_MM = 3.2;
const MOST_DEEP_MM = 9.5;
/** Wider than this along the edge is no mark. */
const MOST_WIDE_MM = 9;
/** Paper beside a mark, mm either way along the edge. */
const BESIDE_MM = [5.5, 6.5, 7.5] as const;
/** The least change that is a mark, 8-bit levels, and how many times the paper's own. */
const LEAST_CHANGE = 11;
const TIMES_NOISE = 6;

/**
 * Snips, notches and ticks that run into the piece from its outline: narrow places along it where the paper looks other than to both
 * sides, from the edge on and no deeper than a notch is. The outline counter-clockwise, plane mm; places on it.
 */
export function edgeMarks(sheet: FlatSheet, outline: readonly Point[], corners: readonly Point[]): Point[] {
  const line = evenly(outline, STEP_MM);
  const n = line.length;
  const depths = Math.round((TO_MM - FROM_MM) / STEP_MM) + 1;
  const strip = stripAlong(sheet, line, depths);
  const change = new Float32Array(n * depths);
  for (let d = 0; d < depths; d++) {
    for (let i = 0; i < n; i++) {
      // Against either side by itself: beside a mark one side is the mark.
      const here = strip[i * depths + d];
      const [before, after] = [-1, 1].map((way) =>
        median(BESIDE_MM.map((mm) => strip[((i + way * Math.round(mm / STEP_MM) + n) % n) * depths + d])),
      );
      change[i * depths + d] = Math.min(Math.abs(here - before), Math.abs(here - after));
    }
  }
  const least = Math.max(LEAST_CHANGE, TIMES_NOISE * robustSd(change.filter((_, k) => k % 7 === 0)));
  const deep = Float32Array.from({ length: n }, (_, i) => reachIn(change, i * depths, depths, least));
  const found: Point[] = [];
  for (let i = 0; i < n; i++) {
    // Where a mark begins, going along.
    if (deep[i] < LEAST_DEEP_MM || deep[(i + n - 1) % n] >= LEAST_DEEP_MM) continue;
    const mark = markFrom(deep, i, n);
    if (mark === null) continue;
    const at = line[Math.round(i + mark.wide / 2) % n];
    if (corners.every((c) => Math.hypot(c[0] - at[0], c[1] - at[1]) > MOST_WIDE_MM)) found.push(at);
  }
  return found;
}

/** From where a mark begins: how many places wide it is; null where it is too wide or too deep. */
function markFrom(deep: Float32Array, start: number, n: number): { wide: number } | null {
  let wide = 0;
  let deepest = 0;
  for (let k = 0, gap = 0; gap <= 2 && k < n; k++) {
    const d = deep[(start + k) % n];
    if (d >= LEAST_DEEP_MM) {
      wide = k;
      gap = 0;
      deepest = Math.max(deepest, d);
    } else gap++;
  }
  return wide * STEP_MM <= MOST_WIDE_MM && deepest <= MOST_DEEP_MM ? { wide } : null;
}

/** How deep the change goes on from the edge without a break, mm. */
function reachIn(change: Float32Array, start: number, depths: number, least: number): number {
  let last = -1;
  for (let d = 0; d < depths && d - last <= 2; d++) if (change[start + d] > least) last = d;
  return last < 0 ? 0 : FROM_MM + last * STEP_MM;
}

/** Luma below each place of the line, by depth: the mean over a little of the way along. */
function stripAlong(sheet: FlatSheet, line: readonly Point[], depths: number): Float32Array {
  const n = line.length;
  const out = new Float32Array(n * depths);
  for (let i = 0; i < n; i++) {
    const [ax, ay] = line[(i + n - 4) % n];
    const [bx, by] = line[(i + 4) % n];
    const length = Math.hypot(bx - ax, by - ay) || 1;
    // Counter-clockwise: the inside is to the left.
    const [nx, ny] = [-(by - ay) / length, (bx - ax) / length];
    for (let d = 0; d < depths; d++) {
      const mm = FROM_MM + d * STEP_MM;
      const [x, y] = sheetFromPlane(sheet, [line[i][0] + mm * nx, line[i][1] + mm * ny]);
      out[i * depths + d] = sampleBilinear(sheet.luma, sheet.width, sheet.height, x, y);
    }
  }
  return out;
}
