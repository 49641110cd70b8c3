import type { Point } from '../../math/matrix3.js';
import { type FlatSheet, planeFromSheet } from './flat-sheet.js';
import type { PenStrokes } from './pen-strokes.js';
import { type Stroke, straightStrokes } from './straight-strokes.js';

/** A straight pen line with an arrow head, mm of the plane. */
export interface GrainLine {
  readonly foot: Point;
  readonly head: Point;
  readonly heads: 1 | 2;
  readonly sdDeg: number;
}

/** Angles between shaft and barb that heads are drawn at, degrees, one step apart. */
const BARB_FROM = 14;
const BARB_TO = 52;
const BARB_STEP = 3;
/** Along a barb, from the tip: marks between these must be there, mm. Nearer the shaft's own width hides it. */
const BARB_NEAR_MM = 2;
const BARB_FAR_MM = 5;
/** This much of a barb is dark, and this little of what lies outside the head. */
const LEAST_BARB = 0.7;
const MOST_BEYOND = 0.45;
/** Both barbs are at one angle to the shaft, steps. */
const ALIKE = 3;

/** The drawn grain line: of all straight lines on the paper the longest that has a head, or null. */
export function grainLine(sheet: FlatSheet, strokes: PenStrokes): GrainLine | null {
  const { width, height, pxPerMm } = sheet;
  for (const stroke of straightStrokes(strokes, width, height, pxPerMm)) {
    const atTo = headAt(sheet, strokes, stroke.to, stroke.from);
    const atFrom = headAt(sheet, strokes, stroke.from, stroke.to);
    if (!atTo && !atFrom) continue;
    const [foot, head] = atTo ? [stroke.from, stroke.to] : [stroke.to, stroke.from];
    return {
      foot: planeFromSheet(sheet, foot),
      head: planeFromSheet(sheet, head),
      heads: atTo && atFrom ? 2 : 1,
      sdDeg: sdOf(stroke),
    };
  }
  return null;
}

/** A pen line drawn by hand along a ruler is itself no straighter than this, degrees. */
const DRAWN_SD_DEG = 0.05;
const sdOf = ({ sdDeg }: Stroke): number => Math.hypot(sdDeg, DRAWN_SD_DEG);

/** Whether two barbs, or the sides of a filled head, run back from a tip on both sides of a shaft. */
function headAt(sheet: FlatSheet, strokes: PenStrokes, end: Point, other: Point): boolean {
  const length = Math.hypot(end[0] - other[0], end[1] - other[1]);
  const back: Point = [(other[0] - end[0]) / length, (other[1] - end[1]) / length];
  // The run may end a little before or beyond the tip.
  for (let shift = -2; shift <= 2.5; shift += 0.5) {
    const k = shift * sheet.pxPerMm;
    const tip: Point = [end[0] + k * back[0], end[1] + k * back[1]];
    if (headFrom(sheet, strokes, tip, back)) return true;
  }
  return false;
}

function headFrom(sheet: FlatSheet, strokes: PenStrokes, tip: Point, back: Point): boolean {
  const angles = Math.floor((BARB_TO - BARB_FROM) / BARB_STEP) + 1;
  const share = (side: 1 | -1, deg: number): number => barbShare(sheet, strokes, tip, back, side * deg);
  const rows = ([1, -1] as const).map((side) =>
    Array.from({ length: angles + 6 }, (_, k) => share(side, BARB_FROM + BARB_STEP * k)),
  );
  // The outermost dark angle on either side, with light beyond.
  const outer = rows.map((row) => {
    for (let k = angles - 1; k >= 0; k--) {
      if (row[k] >= LEAST_BARB && row[k] >= row[k + 1]) {
        return row[k + 4] <= MOST_BEYOND && row[k + 5] <= MOST_BEYOND ? k : -1;
      }
    }
    return -1;
  });
  return outer[0] >= 0 && outer[1] >= 0 && Math.abs(outer[0] - outer[1]) <= ALIKE;
}

/** How much of a barb at an angle to the shaft is dark. */
function barbShare(sheet: FlatSheet, { mask }: PenStrokes, tip: Point, back: Point, deg: number): number {
  const { width, height, pxPerMm, luma } = sheet;
  const a = (deg * Math.PI) / 180;
  const dx = back[0] * Math.cos(a) - back[1] * Math.sin(a);
  const dy = back[0] * Math.sin(a) + back[1] * Math.cos(a);
  let dark = 0;
  let all = 0;
  const paper = paperLevel(sheet, tip);
  for (let t = BARB_NEAR_MM * pxPerMm; t <= BARB_FAR_MM * pxPerMm; t += 0.7) {
    const x = Math.floor(tip[0] + t * dx);
    const y = Math.floor(tip[1] + t * dy);
    all++;
    if (x < 1 || y < 1 || x >= width - 1 || y >= height - 1) continue;
    const i = y * width + x;
    // A filled head is no thin line inside: there it is only dark.
    if (mask[i] || mask[i - 1] || mask[i + 1] || mask[i - width] || mask[i + width] || luma[i] < paper.dark)
      dark++;
  }
  return all === 0 ? 0 : dark / all;
}

/** Half-way between the paper's lightness about a place and the darkest there. */
function paperLevel({ width, height, pxPerMm, luma }: FlatSheet, [cx, cy]: Point): { readonly dark: number } {
  const reach = Math.round(9 * pxPerMm);
  const values: number[] = [];
  for (let y = Math.max(0, Math.floor(cy) - reach); y < Math.min(height, cy + reach); y += 3) {
    for (let x = Math.max(0, Math.floor(cx) - reach); x < Math.min(width, cx + reach); x += 3) {
      values.push(luma[y * width + x]);
    }
  }
  values.sort((a, b) => a - b);
  const usual = values[Math.floor(values.length * 0.6)] ?? 255;
  const darkest = values[Math.floor(values.length * 0.02)] ?? 0;
  return { dark: usual - Math.max(18, 0.5 * (usual - darkest)) };
}
