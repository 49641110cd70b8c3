import { wrap } from '../math/wrap.js';
import type { MotifCell } from './motif-cell.js';

/** What hangs together in one cell of the print. */
export interface MotifShape {
  /** Places in the cell that belong to it. */
  readonly places: readonly number[];
  /** Outer box in columns and bins of the cell: first column and bin, counts. A shape as long as the cell runs on without end. */
  readonly span: MotifSpan;
  /** Outer box, mm, v within the cell's own first repeat or running past its edge; never more than one repeat long. */
  readonly box: MotifBox;
  /** The box of each of its columns. */
  readonly columns: readonly MotifBox[];
  /** The box of each of its colours, the largest first. `label` as in the cell. */
  readonly colours: readonly { readonly label: number; readonly box: MotifBox }[];
}

export interface MotifSpan {
  readonly u: number;
  readonly v: number;
  readonly wide: number;
  readonly tall: number;
}

export interface MotifBox {
  readonly fromUMm: number;
  readonly toUMm: number;
  readonly fromVMm: number;
  readonly toVMm: number;
}

/** Parts of a motif closer than this belong together, mm. */
const GAP_MM = 1.2;
/** Specks: under this part of the largest shape, or under this part of a shape for a colour of it. */
const SPECK = 0.03;
const SPECK_OF_COLOUR = 0.06;
/** A line along the whole cell no wider than this is the edge of a band, mm. */
const LINE_MM = 1.5;

interface Spot {
  readonly at: number;
  /** Place unrolled over neighbouring cells. */
  readonly u: number;
  readonly v: number;
}

/** The shapes of a cell, largest first; a shape that runs over the cell's edge is put together again. */
export function motifShapes(cell: MotifCell): MotifShape[] {
  const { columns, bins, dropBins, labels, columnMm, binMm } = cell;
  const reachU = Math.max(1, Math.ceil(GAP_MM / columnMm));
  const reachV = Math.max(1, Math.ceil(GAP_MM / binMm));
  const taken = new Uint8Array(labels.length);
  const shapes: Spot[][] = [];
  for (let first = 0; first < labels.length; first++) {
    if (labels[first] === 0 || taken[first]) continue;
    taken[first] = 1;
    const shape: Spot[] = [{ at: first, u: Math.floor(first / bins), v: first % bins }];
    for (const { u, v } of shape) {
      for (let du = -reachU; du <= reachU; du++) {
        const turns = Math.floor((u + du) / columns);
        const column = u + du - turns * columns;
        const lift = Math.round(turns * dropBins);
        for (let dv = -reachV; dv <= reachV; dv++) {
          const bin = v + dv - lift;
          const at = column * bins + wrap(bin, bins);
          if (labels[at] === 0 || taken[at]) continue;
          taken[at] = 1;
          shape.push({ at, u: u + du, v: v + dv });
        }
      }
    }
    shapes.push(shape);
  }
  const area = (spots: readonly Spot[]): number => spots.reduce((s, p) => s + cell.cover[p.at], 0);
  shapes.sort((p, q) => area(q) - area(p));
  const largest = shapes.length > 0 ? area(shapes[0]) : 0;
  return shapes
    .filter((spots) => area(spots) >= SPECK * largest && spots.length > 2)
    .map((spots) => ({ spots, span: spanOf(cell, spots) }))
    .filter(({ span }) => span.tall < bins || span.wide * columnMm > LINE_MM)
    .map(({ spots, span }) => ({
      places: spots.map((p) => p.at),
      span,
      box: boxOf(cell, span),
      columns: columnsOf(cell, spots),
      colours: coloursOf(cell, spots).filter((c) => c.share >= SPECK_OF_COLOUR),
    }));
}

function columnsOf(cell: MotifCell, spots: readonly Spot[]): MotifBox[] {
  const own = new Map<number, Spot[]>();
  for (const spot of spots) {
    const held = own.get(spot.u);
    if (held) held.push(spot);
    else own.set(spot.u, [spot]);
  }
  return [...own.values()].map((column) => boxOf(cell, spanOf(cell, column)));
}

function coloursOf(cell: MotifCell, spots: readonly Spot[]) {
  const kinds = [...new Set(spots.map((p) => cell.labels[p.at]))];
  return kinds
    .map((label) => {
      const own = spots.filter((p) => cell.labels[p.at] === label);
      return { label, share: own.length / spots.length, box: boxOf(cell, spanOf(cell, own)) };
    })
    .sort((p, q) => q.share - p.share);
}

function spanOf({ columns, bins }: MotifCell, spots: readonly Spot[]): MotifSpan {
  let u = Infinity;
  let v = Infinity;
  let endU = -Infinity;
  let endV = -Infinity;
  for (const p of spots) {
    u = Math.min(u, p.u);
    v = Math.min(v, p.v);
    endU = Math.max(endU, p.u + 1);
    endV = Math.max(endV, p.v + 1);
  }
  return { u, v, wide: Math.min(columns, endU - u), tall: Math.min(bins, endV - v) };
}

function boxOf({ fromUMm, fromVMm, columnMm, binMm }: MotifCell, { u, v, wide, tall }: MotifSpan): MotifBox {
  return {
    fromUMm: fromUMm + u * columnMm,
    toUMm: fromUMm + (u + wide) * columnMm,
    fromVMm: fromVMm + v * binMm,
    toVMm: fromVMm + (v + tall) * binMm,
  };
}
