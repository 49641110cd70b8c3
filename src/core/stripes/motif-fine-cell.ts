import type { ClothSheet } from '../rectify/cloth-picture.js';
import { emptiestColumn, type MotifCell, motifCell } from './motif-cell.js';
import { squaresFromMixture } from './motif-ground.js';
import type { MotifInput } from './motif-input.js';
import { cellGrid, type PrintLattice } from './motif-lattice.js';
import { printedColumns } from './motif-period.js';
import { type MotifRaster, motifRaster, UNSEEN } from './motif-raster.js';

/** The finer raster has this many rows to a repeat along, if they are no more pixels than so many. */
export const ROWS = 50;
/** With this part of them all repeats in view are asked, which average better than one. */
const FINE_ENOUGH = 0.8;
const PIXELS: readonly [least: number, most: number] = [30_000, 160_000];
/** Left around the print, mm. */
const MARGIN_MM = 2;

/**
 * The print at a finer pitch than the raster the lattice was found on: the one repeat that was seen best, its columns with
 * print only. The raster itself where that is no finer.
 */
export function fineRaster(
  input: MotifInput,
  raster: MotifRaster,
  lattice: PrintLattice,
  rows = ROWS,
): MotifRaster {
  if (lattice.acrossRepeats === null || lattice.alongMm / raster.pitchVMm > FINE_ENOUGH * rows) return raster;
  const span = bestSpan(raster, lattice);
  if (span === null) return raster;
  const sheet = cropped(input.sheet, span.fromMm, span.toMm);
  const { width, height } = sheet.picture;
  const wanted = width * height * (rows / (lattice.alongMm * sheet.pxPerMm)) ** 2;
  const fine = motifRaster({ ...input, sheet }, Math.max(PIXELS[0], Math.min(PIXELS[1], wanted)));
  return fine.pitchVMm < raster.pitchVMm ? fine : raster;
}

/** The cell of the print, from the raster given. */
export const fineCell = (input: MotifInput, fine: MotifRaster, lattice: PrintLattice): MotifCell =>
  motifCell(fine, lattice, blendsAmong(input));

/** CIE76 units from the line between two colours within which a third may be their blend; the line is bent in CIELAB. */
const BLEND = 12;

/** Which colours of the print lie between a band's colour and another colour of the print. */
function blendsAmong({ colours, bands, printColours }: MotifInput): boolean[] {
  const apart = (p: number, q: number): number =>
    Math.hypot(...[0, 1, 2].map((c) => colours[p].lab[c] - colours[q].lab[c]));
  const grounds = [...new Set(bands.map((b) => b.colour))];
  return printColours.map((one) =>
    printColours.some((other) =>
      grounds.some(
        (ground) =>
          one !== other &&
          one !== ground &&
          other !== ground &&
          apart(one, ground) < apart(other, ground) &&
          squaresFromMixture(colours[one].lab, colours[ground].lab, colours[other].lab) < BLEND ** 2,
      ),
    ),
  );
}

/** u of the first and last column with print in the repeat that shows most of it. */
function bestSpan(raster: MotifRaster, lattice: PrintLattice): { fromMm: number; toMm: number } | null {
  const { width, height, labels, fromUMm, pitchUMm } = raster;
  const { columns } = cellGrid(raster, lattice);
  const { acrossOf } = cellGrid(raster, lattice, emptiestColumn(raster, columns));
  const spans = new Map<number, { from: number; to: number; seen: number }>();
  for (const x of printedColumns(raster, columns)) {
    let seen = 0;
    for (let i = x; i < width * height; i += width) if (labels[i] !== UNSEEN) seen++;
    const across = acrossOf(x);
    const held = spans.get(across) ?? { from: x, to: x, seen: 0 };
    spans.set(across, { from: held.from, to: x, seen: held.seen + seen });
  }
  let best: { from: number; to: number; seen: number } | null = null;
  for (const span of spans.values()) if (best === null || span.seen > best.seen) best = span;
  return (
    best && {
      fromMm: fromUMm + best.from * pitchUMm - MARGIN_MM,
      toMm: fromUMm + (best.to + 1) * pitchUMm + MARGIN_MM,
    }
  );
}

/** The part of a sheet between two places across the stripes. */
function cropped(sheet: ClothSheet, fromUMm: number, toUMm: number): ClothSheet {
  const { picture, pxPerMm, leftUMm, seen } = sheet;
  const { width, height, channels, data } = picture;
  const from = Math.max(0, Math.floor((fromUMm - leftUMm) * pxPerMm));
  const to = Math.min(width, Math.ceil((toUMm - leftUMm) * pxPerMm));
  const columns = Math.max(1, to - from);
  const part = new Uint8Array(columns * height * channels);
  const partSeen = new Uint8Array(columns * height);
  for (let y = 0; y < height; y++) {
    const row = y * width + from;
    part.set(data.subarray(row * channels, (row + columns) * channels), y * columns * channels);
    partSeen.set(seen.subarray(row, row + columns), y * columns);
  }
  return {
    ...sheet,
    picture: { ...picture, width: columns, data: part },
    leftUMm: leftUMm + from / pxPerMm,
    seen: partSeen,
  };
}
