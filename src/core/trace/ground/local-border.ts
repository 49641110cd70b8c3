import { erodeMask } from '../../raster/erode-mask.js';
import { labOf } from '../../raster/lab-of.js';
import { type Raster, raster } from '../../raster/raster.js';
import { tollsOf } from './features.js';
import { shortestBorderWithin } from './shortest-border.js';

/** Colours on either side of the border are those within this many px of it, on the copy. */
const REACH = 20;
/** Places this near the rough border, px of the copy, belong to no side yet. */
const UNSURE = 5;
/** Surfaces scatter at least by so much, units of Lab. */
const LEAST_SD = 2.5;
const SUREST = 4;
const TOLL = 2.5;
const ROUNDS = 90;

export interface Patch {
  /** Of the copy's px where the patch begins. */
  readonly x0: number;
  readonly y0: number;
  readonly width: number;
  readonly height: number;
  /** 0 ground to 1 paper. */
  readonly paper: Float32Array;
}

/**
 * The border of one region drawn anew on a finer copy, by the colours that ground and paper have near by: light that runs over the picture
 * and boards of many tones do not matter there.
 *
 * @param rough 1 inside, on a copy of half the size
 * @param hidden 1 where something covers the picture or other paper lies, same size as `copy`
 * @param box of the region on the rough copy: x from, y from, x to, y to, the last two excluded
 */
export function localBorder(
  copy: Raster<Uint8Array>,
  rough: Uint8Array,
  hidden: Uint8Array,
  roughWidth: number,
  box: readonly [number, number, number, number],
): Patch {
  const roughHeight = rough.length / roughWidth;
  const grow = Math.ceil((REACH + UNSURE) / 2);
  const x0 = 2 * Math.max(0, box[0] - grow);
  const y0 = 2 * Math.max(0, box[1] - grow);
  const width = Math.min(copy.width, 2 * Math.min(roughWidth, box[2] + grow)) - x0;
  const height = Math.min(copy.height, 2 * Math.min(roughHeight, box[3] + grow)) - y0;
  const lab = labOf(cropped(copy, x0, y0, width, height)).data;
  const inside = new Uint8Array(width * height);
  const outside = new Uint8Array(width * height);
  const open = new Uint8Array(width * height);
  for (let y = 0; y < height; y++) {
    for (let x = 0; x < width; x++) {
      const at =
        Math.min(roughHeight - 1, (y0 + y) >> 1) * roughWidth + Math.min(roughWidth - 1, (x0 + x) >> 1);
      const i = y * width + x;
      inside[i] = rough[at];
      outside[i] = 1 - rough[at];
      open[i] = 1 - hidden[(y0 + y) * copy.width + x0 + x];
    }
  }
  const sureIn = erodeMask(inside, width, height, UNSURE);
  const sureOut = erodeMask(outside, width, height, UNSURE);
  const paperSide = localColours(lab, both(sureIn, open), width, height);
  const groundSide = localColours(lab, both(sureOut, open), width, height);
  const votes = new Float32Array(width * height);
  const start = new Float32Array(width * height);
  for (let i = 0; i < votes.length; i++) {
    start[i] = inside[i];
    if (open[i] === 0) votes[i] = inside[i] ? -1 : 1;
    else if (sureIn[i]) votes[i] = -SUREST;
    else if (sureOut[i]) votes[i] = SUREST;
    else {
      const odds = missOf(paperSide, lab, i) - missOf(groundSide, lab, i);
      votes[i] = Math.max(-SUREST, Math.min(SUREST, odds));
    }
  }
  const tolls = tollsOf(lab, 3, width, height, TOLL);
  const unsure = sureIn.map((v, i) => 1 - (v | sureOut[i]));
  const paper = shortestBorderWithin(width, height, votes, tolls, ROUNDS, start, unsure);
  return { x0, y0, width, height, paper };
}

const both = (a: Uint8Array, b: Uint8Array): Uint8Array => a.map((v, i) => v & b[i]);

function cropped(
  copy: Raster<Uint8Array>,
  x0: number,
  y0: number,
  width: number,
  height: number,
): Raster<Uint8Array> {
  const data = new Uint8Array(3 * width * height);
  for (let y = 0; y < height; y++) {
    const from = 3 * ((y0 + y) * copy.width + x0);
    data.set(copy.data.subarray(from, from + 3 * width), 3 * y * width);
  }
  return raster(width, height, 3, data);
}

/** Mean and variance of Lab over the places of a mask within REACH of each place: 6 values a place and how many there are. */
interface LocalColours {
  readonly moments: Float32Array;
  readonly counts: Float32Array;
}

function localColours(lab: Float32Array, mask: Uint8Array, width: number, height: number): LocalColours {
  const n = width * height;
  const moments = new Float32Array(6 * n);
  const counts = boxSums(Float32Array.from(mask), width, height);
  const plane = new Float32Array(n);
  for (let c = 0; c < 3; c++) {
    for (let power = 1; power <= 2; power++) {
      for (let i = 0; i < n; i++) plane[i] = mask[i] ? lab[3 * i + c] ** power : 0;
      const sums = boxSums(plane, width, height);
      for (let i = 0; i < n; i++) moments[6 * i + 2 * c + power - 1] = sums[i] / Math.max(1, counts[i]);
    }
  }
  return { moments, counts };
}

/** Sums over squares of 2 REACH + 1 px, rows then columns. */
function boxSums(values: Float32Array, width: number, height: number): Float32Array {
  const rows = new Float32Array(values.length);
  for (let y = 0; y < height; y++) slide(values, rows, y * width, 1, width);
  const out = new Float32Array(values.length);
  for (let x = 0; x < width; x++) slide(rows, out, x, width, height);
  return out;
}

function slide(from: Float32Array, to: Float32Array, start: number, stride: number, count: number): void {
  let sum = 0;
  for (let k = 0; k < Math.min(REACH, count); k++) sum += from[start + k * stride];
  for (let k = 0; k < count; k++) {
    if (k + REACH < count) sum += from[start + (k + REACH) * stride];
    to[start + k * stride] = sum;
    if (k - REACH >= 0) sum -= from[start + (k - REACH) * stride];
  }
}

/** How ill a place's colour fits a side: minus its log density, up to a constant; a middling value where the side is not seen near by. */
function missOf({ moments, counts }: LocalColours, lab: Float32Array, i: number): number {
  if (counts[i] < 12) return 3;
  let miss = 0;
  for (let c = 0; c < 3; c++) {
    const mean = moments[6 * i + 2 * c];
    const variance = Math.max(0, moments[6 * i + 2 * c + 1] - mean * mean) + LEAST_SD ** 2;
    miss += ((lab[3 * i + c] - mean) ** 2 / variance + Math.log(variance)) / 2;
  }
  return miss;
}
