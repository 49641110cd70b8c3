import { wrap } from '../math/wrap.js';
import type { MotifCell } from './motif-cell.js';
import type { MotifSpan } from './motif-places.js';

/** How far the print of a cell is its own image, at the best shift: 1 = wholly, as shared part of the area both cover. */
export interface CellSymmetry {
  /** v reversed. */
  readonly mirrorAlong: number;
  /** u reversed. */
  readonly mirrorAcross: number;
  /** Both reversed. */
  readonly halfTurn: number;
}

/**
 * Part of the area along its rim in which a print may miss its own image: drawn on a grid, the two are up to a
 * quarter of a place apart.
 */
const RIM_MISS = 0.3;

/** How much of the print must stay unlike its image before it is unlike for sure, and up to which it is like, 0..1. */
export function unlikeLimits({ columns, bins, labels }: MotifCell): { like: number; unlike: number } {
  let area = 0;
  let rim = 0;
  for (let i = 0; i < labels.length; i++) {
    if (labels[i] === 0) continue;
    area++;
    const u = Math.floor(i / bins);
    const v = i % bins;
    const near = [
      wrap(u + 1, columns) * bins + v,
      wrap(u - 1, columns) * bins + v,
      u * bins + wrap(v + 1, bins),
      u * bins + wrap(v - 1, bins),
    ];
    if (near.some((n) => labels[n] !== labels[i])) rim++;
  }
  const like = area > 0 ? (RIM_MISS * rim) / area : 1;
  return { like, unlike: 1.4 * like };
}

/** The places of a cell that show print. */
interface Spots {
  readonly column: Int32Array;
  readonly bin: Int32Array;
  readonly label: Uint8Array;
  readonly cover: Float32Array;
  readonly area: number;
}

/**
 * Compares the print of a cell with its mirror images and its half turn, at every shift that lays the first of its shapes
 * on one of them; the stripes under it are left out of account. Colours must agree.
 */
export function cellSymmetry(cell: MotifCell, shapes: readonly MotifSpan[]): CellSymmetry {
  const spots = spotsOf(cell);
  return {
    mirrorAlong: likeness(cell, spots, shapes, 1, -1),
    mirrorAcross: likeness(cell, spots, shapes, -1, 1),
    halfTurn: likeness(cell, spots, shapes, -1, -1),
  };
}

function spotsOf({ columns, bins, labels, cover }: MotifCell): Spots {
  const at = [...labels.keys()].filter((i) => labels[i] > 0 && i < columns * bins);
  return {
    column: Int32Array.from(at, (i) => Math.floor(i / bins)),
    bin: Int32Array.from(at, (i) => i % bins),
    label: Uint8Array.from(at, (i) => labels[i]),
    cover: Float32Array.from(at, (i) => cover[i]),
    area: at.reduce((s, i) => s + cover[i], 0),
  };
}

/** How far, in places of the cell, the middle of a drawing's box may be from the middle of its image's. */
const REACH = 2;

function likeness(
  cell: MotifCell,
  spots: Spots,
  shapes: readonly MotifSpan[],
  acrossSign: 1 | -1,
  alongSign: 1 | -1,
): number {
  const { columns, bins } = cell;
  const first = shapes[0];
  let most = 0;
  for (const other of shapes) {
    // A shape without end has no middle: every shift is tried.
    const dus = shiftsOf(first.u, first.wide, other.u, other.wide, acrossSign, columns);
    const dvs = shiftsOf(first.v, first.tall, other.v, other.tall, alongSign, bins);
    for (const du of dus) {
      for (const dv of dvs) most = Math.max(most, shared(cell, spots, acrossSign, alongSign, du, dv));
    }
  }
  return spots.area > 0 ? most / (2 * spots.area - most) : 0;
}

function shiftsOf(
  from: number,
  size: number,
  otherFrom: number,
  otherSize: number,
  sign: 1 | -1,
  period: number,
): number[] {
  if (size === period) return Array.from({ length: period }, (_, d) => d);
  const middle = Math.round(otherFrom + (otherSize - 1) / 2 - sign * (from + (size - 1) / 2));
  return Array.from({ length: 2 * REACH + 1 }, (_, k) => middle + k - REACH);
}

/** Area of print that a cell shares with its image, shifted by du columns and dv bins. */
function shared(
  { columns, bins, dropBins, labels, cover }: MotifCell,
  spots: Spots,
  acrossSign: 1 | -1,
  alongSign: 1 | -1,
  du: number,
  dv: number,
): number {
  let sum = 0;
  for (let i = 0; i < spots.column.length; i++) {
    const u = acrossSign * spots.column[i] + du;
    const turns = Math.floor(u / columns);
    const v = Math.round(alongSign * spots.bin[i] + dv - turns * dropBins);
    const at = (u - turns * columns) * bins + wrap(v, bins);
    if (labels[at] === spots.label[i]) sum += Math.min(spots.cover[i], cover[at]);
  }
  return sum;
}
