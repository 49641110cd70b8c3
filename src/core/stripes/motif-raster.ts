import type { Lab } from '../colour/lab.js';
import { labOfBytes } from '../colour/lab-of-bytes.js';
import type { ClothSheet } from '../rectify/cloth-picture.js';
import { hideForeign } from './motif-foreign.js';
import {
  bandColour,
  type ColumnBands,
  grounds,
  isPartlyPrint,
  isStrange,
  printAt,
  SAME_COLOUR,
  squaresTo,
} from './motif-ground.js';
import type { MotifInput } from './motif-input.js';

/**
 * The cloth on a grid of whole columns to the repeat, with the stripes taken off. Column c lies at
 * u = fromUMm + (c + 0.5) * pitchUMm, row r at v = topVMm - (r + 0.5) * pitchVMm; fromUMm is a whole number of repeats from u = 0.
 */
export interface MotifRaster {
  readonly width: number;
  readonly height: number;
  /** The whole width where there is no repeat. */
  readonly columnsPerRepeat: number;
  readonly fromUMm: number;
  readonly topVMm: number;
  readonly pitchUMm: number;
  readonly pitchVMm: number;
  /** 0: the band's own colour; k: print of colour k - 1 of the list given; UNSEEN: no cloth here. */
  readonly labels: Uint8Array;
  /** Three values a pixel: CIELAB less that of the band, where print covers the pixel or a part of it; else 0. */
  readonly residual: Float32Array;
  /** Pixels with print, one a column. */
  readonly printCount: Float64Array;
  /** The cloth's colour, encoded sRGB, three values a pixel. */
  readonly bytes: Uint8Array;
  /** Index of the band of each column, or -1. */
  readonly bandOf: Int16Array;
  /** Each band's colour in this picture. */
  readonly bandLab: readonly Lab[];
}

export const UNSEEN = 255;
/** Neither band nor print. */
const STRANGE = 254;

/** As many as the search for a lattice needs. */
const PIXELS = 110_000;
/** An edge wanders by about this much from where its band ends on the average, mm. */
const EDGE_REACH_MM = 1.2;

/**
 * Samples the sheet by area and marks what is nearer to a colour of the print than to the band it lies on.
 * @param pixels the sheet is laid out in about this many pixels, or its own where they are fewer.
 */
export function motifRaster(input: MotifInput, pixels = PIXELS): MotifRaster {
  const { sheet, repeatMm, printColours, colours, bands } = input;
  const { picture, pxPerMm, leftUMm, topVMm } = sheet;
  const widthMm = picture.width / pxPerMm;
  const heightMm = picture.height / pxPerMm;
  const aimMm = Math.max(1 / pxPerMm, Math.sqrt((widthMm * heightMm) / pixels));
  const stepMm = repeatMm ?? widthMm;
  const columnsPerRepeat = Math.max(8, Math.round(stepMm / aimMm));
  const pitchUMm = stepMm / columnsPerRepeat;
  const first = repeatMm === null ? 0 : Math.floor(leftUMm / stepMm);
  const last = repeatMm === null ? 1 : Math.ceil((leftUMm + widthMm) / stepMm);
  const fromUMm = repeatMm === null ? leftUMm : first * stepMm;
  const width = (last - first) * columnsPerRepeat;
  const height = Math.max(1, Math.floor(heightMm / aimMm));
  const grid = { width, height, columnsPerRepeat, fromUMm, topVMm, pitchUMm, pitchVMm: aimMm };
  const { bytes, seen } = shrunkSheet(sheet, grid);
  const lab = labOfBytes(bytes);
  const expected = columnBands(input, grid);
  const print = printColours.map((c) => colours[c].lab);
  const bandLab = bands.map((band, b) =>
    bandColour(lab, seen, columnsOf(expected, b), width, colours[band.colour].lab, print),
  );
  const labels = new Uint8Array(width * height);
  const residual = new Float32Array(3 * width * height);
  const printCount = new Float64Array(width);
  const ground = grounds(input, expected, bandLab);
  for (let y = 0; y < height; y++) {
    for (let x = 0; x < width; x++) {
      const i = y * width + x;
      const under = ground[x];
      if (under === null || seen[i] === 0) {
        labels[i] = UNSEEN;
        continue;
      }
      const { band } = under;
      if (squaresTo(lab, i, band) < SAME_COLOUR ** 2) continue;
      const colour = printAt(lab, i, under);
      if (colour !== null) labels[i] = print.indexOf(colour) + 1;
      else if (isStrange(lab, i, under)) labels[i] = STRANGE;
      if (colour === null && !isPartlyPrint(lab, i, under)) continue;
      for (let c = 0; c < 3; c++) residual[3 * i + c] = lab[3 * i + c] - band[c];
    }
  }
  hideForeign(labels, width, UNSEEN, STRANGE);
  for (let i = 0, x = 0; i < labels.length; i++, x = x + 1 < width ? x + 1 : 0) {
    if (labels[i] !== UNSEEN) printCount[x] += labels[i] > 0 ? 1 : 0;
    else residual.fill(0, 3 * i, 3 * i + 3);
  }
  return { ...grid, labels, residual, printCount, bytes, bandOf: expected.own, bandLab };
}

type Grid = Omit<MotifRaster, 'labels' | 'residual' | 'printCount' | 'bytes' | 'bandOf' | 'bandLab'>;

/** Means over the sheet's pixels whose centres fall into each pixel of the grid; seen where all of them were. */
function shrunkSheet(
  { picture, pxPerMm, leftUMm, topVMm, seen }: ClothSheet,
  grid: Grid,
): { bytes: Uint8Array; seen: Uint8Array } {
  const { width, height, fromUMm, pitchUMm, pitchVMm } = grid;
  const { data } = picture;
  const bytes = new Uint8Array(3 * width * height);
  const all = new Uint8Array(width * height);
  const bound = (mm: number, limit: number) => Math.max(0, Math.min(limit, Math.round(mm * pxPerMm)));
  const xs = Int32Array.from({ length: width + 1 }, (_, x) =>
    bound(fromUMm + x * pitchUMm - leftUMm, picture.width),
  );
  const ys = Int32Array.from({ length: height + 1 }, (_, y) =>
    bound(grid.topVMm - topVMm + y * pitchVMm, picture.height),
  );
  for (let y = 0; y < height; y++) {
    for (let x = 0; x < width; x++) {
      const count = (xs[x + 1] - xs[x]) * (ys[y + 1] - ys[y]);
      let r = 0;
      let g = 0;
      let b = 0;
      let whole = count > 0 ? 1 : 0;
      for (let q = ys[y]; q < ys[y + 1] && whole === 1; q++) {
        for (let i = q * picture.width + xs[x]; i < q * picture.width + xs[x + 1]; i++) {
          whole &= seen[i];
          r += data[4 * i];
          g += data[4 * i + 1];
          b += data[4 * i + 2];
        }
      }
      if (whole === 0) continue;
      const o = y * width + x;
      all[o] = 1;
      bytes[3 * o] = r / count + 0.5;
      bytes[3 * o + 1] = g / count + 0.5;
      bytes[3 * o + 2] = b / count + 0.5;
    }
  }
  return { bytes, seen: all };
}

/** Where a band was seen, its own edges; elsewhere those of the mean repeat. -1: no band known there. */
function columnBands({ bands, stretches, repeatMm }: MotifInput, grid: Grid): ColumnBands {
  const own = new Int16Array(grid.width).fill(-1);
  const other = new Int16Array(grid.width).fill(-1);
  const edges: { uMm: number; low: number; high: number }[] = [];
  const fill = (band: number, fromMm: number, toMm: number): void => {
    const from = Math.max(0, Math.ceil((fromMm - grid.fromUMm) / grid.pitchUMm - 0.5));
    const to = Math.min(grid.width, Math.ceil((toMm - grid.fromUMm) / grid.pitchUMm - 0.5));
    for (let x = from; x < to; x++) own[x] = band;
  };
  if (repeatMm !== null) {
    const repeats = grid.width / grid.columnsPerRepeat;
    const first = Math.round(grid.fromUMm / repeatMm);
    for (let k = first - 1; k <= first + repeats; k++) {
      for (let b = 0; b < bands.length; b++) {
        fill(
          b,
          bands[b].startMm + k * repeatMm,
          (bands[b + 1]?.startMm ?? bands[0].startMm + repeatMm) + k * repeatMm,
        );
      }
    }
  }
  for (const s of stretches) fill(s.band, s.startMm, s.endMm);
  for (let x = 1; x < grid.width; x++) {
    if (own[x] !== own[x - 1] && own[x] >= 0 && own[x - 1] >= 0) {
      edges.push({ uMm: grid.fromUMm + x * grid.pitchUMm, low: own[x - 1], high: own[x] });
    }
  }
  const reach = EDGE_REACH_MM + grid.pitchUMm;
  for (const { uMm, low, high } of edges) {
    const middle = (uMm - grid.fromUMm) / grid.pitchUMm;
    const span = reach / grid.pitchUMm;
    for (let x = Math.max(0, Math.floor(middle - span)); x < Math.min(grid.width, middle + span); x++) {
      if (own[x] === low) other[x] = high;
      else if (own[x] === high) other[x] = low;
    }
  }
  return { own, other };
}

/** Columns of a band, away from its edges where it is wide enough. */
function columnsOf(expected: ColumnBands, band: number): number[] {
  const all = [...expected.own.keys()].filter((x) => expected.own[x] === band);
  const inside = all.filter((x) => expected.other[x] < 0);
  return inside.length > 0 ? inside : all;
}
