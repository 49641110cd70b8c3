import { median } from '../../math/robust.js';
import { erodeMask } from '../../raster/erode-mask.js';
import { regionsOf } from '../ground/regions.js';
import type { FlatSheet } from './flat-sheet.js';

/** Widest stroke of a pen, mm; paper is looked for on both sides so far away. */
const SIDE_MM = 1.3;
/** The least darkening that is a stroke, 8-bit levels, and how many times the paper's own restlessness. */
const LEAST_DARK = 9;
const TIMES_NOISE = 5;
/** The paper's edge with its blur and shadow, mm. */
const EDGE_MM = 1.2;

/** Thin dark lines on the paper. */
export interface PenStrokes {
  /** How much darker than what lies on both sides, levels; 0 outside the paper. */
  readonly dark: Float32Array;
  readonly least: number;
  /** 1 where a stroke is. */
  readonly mask: Uint8Array;
}

/** Strokes of pen or pencil: darker than the paper on both sides, in the best of four directions. Steps, creases and shadows are no strokes. */
export function penStrokes(sheet: FlatSheet, paper: Uint8Array): PenStrokes {
  const { width, height, pxPerMm } = sheet;
  const inner = erodeMask(paper, width, height, Math.round(EDGE_MM * pxPerMm));
  const luma = softened(sheet.luma, width, height);
  const reach = Math.max(2, Math.round(SIDE_MM * pxPerMm));
  const aslant = Math.max(1, Math.round(reach * Math.SQRT1_2));
  const ways = [reach, reach * width, aslant * (width + 1), aslant * (width - 1)];
  const dark = new Float32Array(width * height);
  const margin = reach * (width + 1);
  const sample: number[] = [];
  for (let i = margin; i < dark.length - margin; i++) {
    if (inner[i] === 0) continue;
    let best = 0;
    for (let k = 0; k < 4; k++) {
      const d = ways[k];
      const a = luma[i - d];
      const b = luma[i + d];
      const drop = (a < b ? a : b) - luma[i];
      if (drop > best) best = drop;
    }
    dark[i] = best;
    if (i % 37 === 0) sample.push(best);
  }
  // Bare paper is most of it: its own drops by chance.
  const usual = sample.length > 0 ? median(sample) : 0;
  const least = Math.max(LEAST_DARK, TIMES_NOISE * (usual + 0.5));
  const weak = Math.max(WEAK_PART * LEAST_DARK, WEAK_PART * TIMES_NOISE * (usual + 0.5));
  return { dark, least, mask: strokesOf(dark, least, weak, width, height) };
}

/** A stroke that is seen anywhere goes on where it is this much as dark: a pen fades (hysteresis: Canny 1986, doi 10.1109/TPAMI.1986.4767851). */
const WEAK_PART = 0.6;

function strokesOf(
  dark: Float32Array,
  least: number,
  weak: number,
  width: number,
  height: number,
): Uint8Array {
  const { labels, regions } = regionsOf(
    Uint8Array.from(dark, (v) => (v > weak ? 1 : 0)),
    width,
    height,
  );
  const seen = new Uint8Array(regions.length + 1);
  for (let i = 0; i < dark.length; i++) if (dark[i] > least) seen[labels[i]] = 1;
  return Uint8Array.from(labels, (label) => (label > 0 ? seen[label] : 0));
}

/** Means of 3 by 3. */
function softened(values: Float32Array, width: number, height: number): Float32Array {
  const out = Float32Array.from(values);
  for (let y = 1; y < height - 1; y++) {
    for (let x = 1, i = y * width + 1; x < width - 1; x++, i++) {
      out[i] =
        (values[i - width - 1] +
          values[i - width] +
          values[i - width + 1] +
          values[i - 1] +
          values[i] +
          values[i + 1] +
          values[i + width - 1] +
          values[i + width] +
          values[i + width + 1]) /
        9;
    }
  }
  return out;
}
