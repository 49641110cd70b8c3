import { median } from '../../math/robust.js';
import { erodeMask } from '../../raster/erode-mask.js';
import { smoothLight } from '../ground/even-light.js';
import type { FlatSheet } from './flat-sheet.js';

/** The search runs on cells of this size, mm: no stroke of a pen fills one. */
const CELL_MM = 2;
/** Departure of a cell's light from the paper's there, in hundredths of the paper's own, that is another thing. */
const UNLIKE = 9;
/** Things are at least this wide, mm: writing fills less. */
const LEAST_MM = 8;
/** A thing's shadow about it, mm. */
const SHADOW_MM = 3;

/**
 * 1 where something lies on the paper, a weight or a box of pins, its shadow with it: wide patches that are darker or lighter than the paper,
 * whose own light is fitted smoothly.
 *
 * @param paper 1 inside the paper's edge, size of the sheet
 */
export function thingsOnPaper(sheet: FlatSheet, paper: Uint8Array): Uint8Array {
  const { width, height, pxPerMm } = sheet;
  const cell = Math.max(1, Math.round(CELL_MM * pxPerMm));
  const [w, h] = [Math.ceil(width / cell), Math.ceil(height / cell)];
  const light = cellLight(sheet, paper, cell, w, h);
  const known = light.filter((v) => !Number.isNaN(v));
  const mask = new Uint8Array(width * height);
  if (known.length < 20) return mask;
  const usual = Math.max(1, median(Array.from(known)));
  const relative = light.map((v) => (100 * (v - usual)) / usual);
  const smooth = smoothLight(relative, w, h, 1);
  const like = new Uint8Array(w * h);
  for (let y = 0, i = 0; y < h; y++) {
    for (let x = 0; x < w; x++, i++) {
      like[i] = Number.isNaN(light[i]) || Math.abs(relative[i] - smooth(x, y)) < UNLIKE ? 1 : 0;
    }
  }
  const grown = opened(like, w, h, Math.round(LEAST_MM / 2 / CELL_MM), Math.round(SHADOW_MM / CELL_MM));
  for (let y = 0, i = 0; y < height; y++) {
    const row = Math.floor(y / cell) * w;
    for (let x = 0; x < width; x++, i++) mask[i] = grown[row + Math.floor(x / cell)] & paper[i];
  }
  return mask;
}

/** Mean luma of each cell wholly on the paper, NaN elsewhere. */
function cellLight(
  { width, height, luma }: FlatSheet,
  paper: Uint8Array,
  cell: number,
  w: number,
  h: number,
): Float32Array {
  const sums = new Float64Array(w * h);
  const counts = new Uint32Array(w * h);
  for (let y = 0, i = 0; y < height; y++) {
    const row = Math.floor(y / cell) * w;
    for (let x = 0; x < width; x++, i++) {
      if (paper[i] === 0) continue;
      const k = row + Math.floor(x / cell);
      sums[k] += luma[i];
      counts[k]++;
    }
  }
  return Float32Array.from(sums, (sum, k) => (counts[k] > 0.9 * cell * cell ? sum / counts[k] : Number.NaN));
}

/** What is unlike over more than `least` cells either side, and so much about it. */
function opened(like: Uint8Array, w: number, h: number, least: number, about: number): Uint8Array {
  const unlike = like.map((v) => 1 - v);
  const core = erodeMask(unlike, w, h, least);
  const bare = core.map((v) => 1 - v);
  return erodeMask(bare, w, h, least + about).map((v) => 1 - v);
}
