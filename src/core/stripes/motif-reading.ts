import { ciede2000 } from '../colour/ciede2000.js';
import { wrap } from '../math/wrap.js';
import type { ClothSheet } from '../rectify/cloth-picture.js';
import { type Intrusion, intrusionEntries } from './intrusion-entries.js';
import type { MotifCell } from './motif-cell.js';
import { withFaintPrint } from './motif-faint.js';
import { fineCell, fineRaster, ROWS } from './motif-fine-cell.js';
import type { MotifInput } from './motif-input.js';
import { findPrintLattice, type PrintLattice } from './motif-lattice.js';
import { type MotifShape, motifShapes } from './motif-places.js';
import { type MotifRaster, motifRaster } from './motif-raster.js';
import { type PrintShares, printShares } from './motif-shares.js';
import { type CellSymmetry, cellSymmetry } from './motif-symmetry.js';

/** One colour of one motif. Lengths in mm, cloth frame. */
export interface Motif {
  /** Index into the colours given. */
  readonly colour: number;
  /** Middle of its outer box, in the first repeats from the origin. */
  readonly alongMm: number;
  readonly acrossMm: number;
  /** Of its outer box: [u, v]. */
  readonly extentMm: readonly [number, number];
  /** Whether the drawing it belongs to is its own image with u reversed, with v reversed; null where that is too close to call. */
  readonly mirrorsAcross: boolean | null;
  readonly mirrorsAlong: boolean | null;
}

export interface MotifReading {
  /** Null where nothing repeats along the stripes: no print, a stain, or less than two repeats of it in view. */
  readonly alongMm: number | null;
  readonly alongSdMm: number | null;
  /** The next cell across is shifted towards growing v by this part of alongMm, [0, 1); null where that was not seen. */
  readonly dropFraction: number | null;
  /** Repeats of the stripes to one cell of the print; null with dropFraction. */
  readonly acrossRepeats: number | null;
  readonly motifs: readonly Motif[];
  readonly intrusions: readonly Intrusion[];
  /** Whether what is printed looks different from the other end of the stripes; null where that cannot be told. */
  readonly directional: boolean | null;
  /** Part of the print that its image turned or mirrored end for end does not cover, 0..1. */
  readonly directionScore: number | null;
  /** The print against its own images; null where none was found. */
  readonly symmetry: CellSymmetry | null;
  /** How much of each band it covers; null where it does not repeat across. */
  readonly shares: PrintShares | null;
  /** On one-way print: the end of v at which most of the largest drawing lies; null where that is its middle. */
  readonly heavyEnd: 'up' | 'down' | null;
}

export const NO_MOTIFS: MotifReading = {
  alongMm: null,
  alongSdMm: null,
  dropFraction: null,
  acrossRepeats: null,
  motifs: [],
  intrusions: [],
  directional: null,
  directionScore: null,
  symmetry: null,
  shares: null,
  heavyEnd: null,
};

/** Drops this near a whole repeat are none. */
const NO_DROP = 0.004;

/** A motif this many places long shows which way it points. */
const PLACES = 14;
/** Small motifs need a fine raster. */
const FAINT_PIXELS = 400_000;
/** CIEDE2000 units by which a colour must have changed to read the cell again. */
const OTHER_COLOUR = 6;

/**
 * What is printed over the stripes: how it repeats along them and from one repeat to the next, what one cell of it holds, where it
 * reaches over the bands, and whether it points one way. The stripes are taken off first; what is left is correlated with
 * itself over places seen both times (Lin, Wang, Yang 1997), with the shift across held to whole repeats of the stripes.
 */
export function readMotifs(input: MotifInput): MotifReading {
  const reading = input.printColours.length === 0 ? NO_MOTIFS : readPrinted(input);
  if (reading !== NO_MOTIFS) return reading;
  const faint = withFaintPrint(input);
  if (faint === null) return NO_MOTIFS;
  const found = readPrinted(faint, FAINT_PIXELS);
  // Without shares its colours would not be known.
  return found.shares === null ? NO_MOTIFS : found;
}

function readPrinted(input: MotifInput, pixels?: number): MotifReading {
  const raster = motifRaster(input, pixels);
  let fine: { readonly raster: MotifRaster; readonly acrossRepeats: number | null } | null = null;
  const finer = (found: PrintLattice): MotifRaster => {
    if (fine?.acrossRepeats !== found.acrossRepeats)
      fine = { raster: fineRaster(input, raster, found), acrossRepeats: found.acrossRepeats };
    return fine.raster;
  };
  const lattice = findPrintLattice(raster, finer);
  if (lattice === null) return NO_MOTIFS;
  const own = finer(lattice);
  // Where all repeats are asked for their drawing, thin lines still need one repeat seen finely.
  const sharp = own === raster ? fineRaster(input, raster, lattice, 2 * ROWS) : own;
  const first = readCell(input, sharp, lattice);
  if (first.shapes.length === 0) return NO_MOTIFS;
  const { shares } = first;
  // Read again where the print proved to have other colours than it seemed, or to be small.
  const better = shares && isChanged(input, shares) ? withColours(input, shares) : input;
  const rows = ROWS * Math.max(1, PLACES / largestOf(first.shapes));
  const again =
    better === input && rows === ROWS
      ? sharp === own
        ? first
        : readCell(input, own, lattice)
      : readCell(better, relabelled(better, raster, lattice, rows), lattice);
  const { cell, shapes } = again.shapes.length > 0 ? again : first;
  const { alongMm, alongSdMm, acrossRepeats, dropMm } = lattice;
  const drop = dropMm / alongMm;
  return {
    alongMm,
    alongSdMm: Math.hypot(alongSdMm, input.scaleRelativeSd * alongMm),
    dropFraction: acrossRepeats === null ? null : Math.abs(drop - Math.round(drop)) < NO_DROP ? 0 : drop,
    acrossRepeats,
    motifs: shapes.flatMap((shape) => motifsOf(better, lattice, cell, shape)),
    intrusions:
      input.repeatMm === null
        ? []
        : intrusionEntries(
            shapes.map((shape) => shape.columns),
            lattice,
            input.repeatMm,
            input.stretches,
            viewOf(input.sheet),
            (uMm, vMm) => isSeen(input.sheet, uMm, vMm),
          ),
    shares,
    ...direction(onlyShapes(cell, shapes), shapes),
  };
}

interface CellReading {
  readonly cell: MotifCell;
  readonly shapes: readonly MotifShape[];
  readonly shares: PrintShares | null;
}

function readCell(input: MotifInput, fine: MotifRaster, lattice: PrintLattice): CellReading {
  const cell = fineCell(input, fine, lattice);
  const shapes = motifShapes(cell);
  return { cell, shapes, shares: shapes.length > 0 ? printShares(input, fine, lattice, cell, shapes) : null };
}

/** The fine raster by the input's own colours, which are not those that the raster given was labelled with. */
function relabelled(
  input: MotifInput,
  raster: MotifRaster,
  lattice: PrintLattice,
  rows: number,
): MotifRaster {
  const fine = fineRaster(input, raster, lattice, rows);
  return fine === raster ? motifRaster(input, raster.width * raster.height) : fine;
}

/** Length of the longest shape, places of the cell. */
const largestOf = (shapes: readonly MotifShape[]): number =>
  Math.max(...shapes.map(({ span }) => Math.max(span.wide, span.tall)));

const isChanged = ({ printColours, colours }: MotifInput, { print, colours: now }: PrintShares): boolean =>
  print.length !== printColours.length ||
  print.some((c) => !printColours.includes(c) || ciede2000(now[c], colours[c].lab) > OTHER_COLOUR);

const withColours = (input: MotifInput, { print, colours }: PrintShares): MotifInput => ({
  ...input,
  colours: colours.map((lab) => ({ lab })),
  printColours: print,
});

/** The cell with the shapes named and nothing else. */
function onlyShapes(cell: MotifCell, shapes: readonly MotifShape[]): MotifCell {
  const labels = new Uint8Array(cell.labels.length);
  for (const { places } of shapes) for (const i of places) labels[i] = cell.labels[i];
  return { ...cell, labels };
}

function direction(
  cell: MotifCell,
  shapes: readonly MotifShape[],
): Pick<MotifReading, 'directional' | 'directionScore' | 'symmetry' | 'heavyEnd'> {
  const symmetry = cellSymmetry(cell, shapes);
  const { mirrorAlong, halfTurn } = symmetry;
  const turned = [mirrorAlong.same, halfTurn.same];
  const directional = turned.includes(true) ? false : turned.includes(null) ? null : true;
  return {
    directional,
    directionScore: 1 - Math.max(mirrorAlong.score, halfTurn.score),
    symmetry,
    heavyEnd: directional ? heavyEnd(cell, shapes[0]) : null,
  };
}

/** The middle of its area lies off the middle of its length by this part of it, or a drawing is as heavy at either end. */
const LEAST_OFF_MIDDLE = 0.02;

function heavyEnd({ bins, cover }: MotifCell, { places, span }: MotifShape): 'up' | 'down' | null {
  let area = 0;
  let moment = 0;
  for (const i of places) {
    area += cover[i];
    moment += cover[i] * wrap((i % bins) - span.v, bins);
  }
  const off = moment / area - (span.tall - 1) / 2;
  if (span.tall >= bins || Math.abs(off) < LEAST_OFF_MIDDLE * span.tall) return null;
  return off > 0 ? 'up' : 'down';
}

function motifsOf(
  { repeatMm, printColours }: MotifInput,
  lattice: PrintLattice,
  cell: MotifCell,
  shape: MotifShape,
): Motif[] {
  const alone = onlyShapes(cell, [shape]);
  const { mirrorAcross, mirrorAlong } = cellSymmetry(alone, [shape], true);
  return shape.colours.map(({ label, box }) => {
    const u = (box.fromUMm + box.toUMm) / 2;
    const v = (box.fromVMm + box.toVMm) / 2;
    const across = (lattice.acrossRepeats ?? 0) * (repeatMm ?? 0);
    const turns = across > 0 ? Math.floor(u / across) : 0;
    const along = v - turns * lattice.dropMm;
    return {
      colour: printColours[label - 1],
      acrossMm: u - turns * across,
      alongMm: wrap(along, lattice.alongMm),
      extentMm: [box.toUMm - box.fromUMm, box.toVMm - box.fromVMm],
      mirrorsAcross: mirrorAcross.same,
      mirrorsAlong: mirrorAlong.same,
    };
  });
}

function viewOf({ picture, pxPerMm, topVMm }: ClothSheet): { fromVMm: number; toVMm: number } {
  return { fromVMm: topVMm - picture.height / pxPerMm, toVMm: topVMm };
}

function isSeen({ picture, pxPerMm, leftUMm, topVMm, seen }: ClothSheet, uMm: number, vMm: number): boolean {
  const x = Math.floor((uMm - leftUMm) * pxPerMm);
  const y = Math.floor((topVMm - vMm) * pxPerMm);
  return x >= 0 && y >= 0 && x < picture.width && y < picture.height && seen[y * picture.width + x] === 1;
}
