import { cellGrid, type PrintLattice } from './motif-lattice.js';
import { type MotifRaster, UNSEEN } from './motif-raster.js';

/**
 * One cell of the print, averaged over the lattice. Place (column, bin) is index column * bins + bin; bins grow with v. Beyond
 * its last column the cell goes on with its first, `dropBins` higher.
 */
export interface MotifCell {
  readonly columns: number;
  readonly bins: number;
  readonly dropBins: number;
  /** Cloth place of the outer corner of the first bin of the first column. */
  readonly fromUMm: number;
  readonly fromVMm: number;
  readonly columnMm: number;
  readonly binMm: number;
  /** What most of the places seen there show: 0 the band, k a colour of the print. */
  readonly labels: Uint8Array;
  /** Share of the places seen there that show print, 0..1. */
  readonly cover: Float32Array;
  /** The same of every other repeat along less that of the rest. */
  readonly halfDifference: Float32Array;
}

/**
 * The cell starts where print is least, so that few motifs are cut.
 * @param blends one a colour of the print: whether it could be a blend of a band and another colour of the print.
 */
export function motifCell(raster: MotifRaster, lattice: PrintLattice, blends: readonly boolean[]): MotifCell {
  const kinds = blends.length;
  const { width, height, labels } = raster;
  const start = emptiestColumn(raster, cellGrid(raster, lattice).columns);
  const { columns, bins, binMm, columnOf, turns } = cellGrid(raster, lattice, start);
  const count = new Uint32Array(columns * bins * (kinds + 1));
  // Places seen and places with print, by turns along.
  const seen = [new Uint32Array(columns * bins), new Uint32Array(columns * bins)];
  const printed = [new Uint32Array(columns * bins), new Uint32Array(columns * bins)];
  const busy = new Uint8Array(columns);
  for (let x = 0; x < width; x++) if (raster.printCount[x] > 0) busy[columnOf(x)] = 1;
  for (let x = 0; x < width; x++) {
    const column = columnOf(x);
    if (!busy[column]) continue;
    for (let y = 0; y < height; y++) {
      const label = labels[y * width + x];
      if (label === UNSEEN) continue;
      const t = turns(x, y);
      const along = Math.floor(t);
      const bin = Math.min(bins - 1, Math.floor((t - along) * bins));
      count[(column * bins + bin) * (kinds + 1) + label]++;
      seen[along & 1][column * bins + bin]++;
      if (label > 0) printed[along & 1][column * bins + bin]++;
    }
  }
  const cell = new Uint8Array(columns * bins);
  const cover = new Float32Array(columns * bins);
  for (let o = 0; o < cell.length; o++) {
    const from = o * (kinds + 1);
    let print = 0;
    let most = 0;
    for (let k = 1; k <= kinds; k++) {
      print += count[from + k];
      if (count[from + k] > count[from + most] || most === 0) most = k;
    }
    const all = print + count[from];
    cover[o] = all > 0 ? print / all : 0;
    if (2 * print > all) cell[o] = most;
  }
  return {
    columns,
    bins,
    dropBins: lattice.dropMm / binMm,
    fromUMm: raster.fromUMm + start * raster.pitchUMm,
    fromVMm: raster.topVMm,
    columnMm: raster.pitchUMm,
    binMm,
    labels: withoutRims(cell, columns, bins, blends),
    cover,
    halfDifference: cover.map((_, i) =>
      seen[0][i] > 0 && seen[1][i] > 0 ? printed[0][i] / seen[0][i] - printed[1][i] / seen[1][i] : 0,
    ),
  };
}

/** A colour of which less than this part lies in blocks of 2 x 2 is the blurred rim of another. */
const LEAST_SOLID = 0.15;
/** A blend must prove itself: fine lines of band and print run together in patches. */
const LEAST_SOLID_BLEND = 0.5;

/**
 * Where print and cloth blend the label is of any colour in between. Places of one colour two wide both ways are taken as
 * they are; the rest of the print takes the colour most of its settled neighbours have, from the solid parts outwards.
 */
function withoutRims(
  labels: Uint8Array,
  columns: number,
  bins: number,
  blends: readonly boolean[],
): Uint8Array {
  const at = (u: number, v: number): number => ((u + columns) % columns) * bins + ((v + bins) % bins);
  const solid = new Uint8Array(labels.length);
  for (let u = 0; u < columns; u++) {
    for (let v = 0; v < bins; v++) {
      const block = [at(u, v), at(u + 1, v), at(u, v + 1), at(u + 1, v + 1)];
      const label = labels[block[0]];
      if (label > 0 && block.every((i) => labels[i] === label)) for (const i of block) solid[i] = 1;
    }
  }
  const kinds = Math.max(0, ...labels) + 1;
  const counts = Array.from({ length: kinds }, () => ({ all: 0, solid: 0 }));
  labels.forEach((label, i) => {
    counts[label].all++;
    counts[label].solid += solid[i];
  });
  const kept = counts.map(
    (c, label) => c.solid >= (blends[label - 1] ? LEAST_SOLID_BLEND : LEAST_SOLID) * c.all,
  );
  if (!kept.some((k, label) => k && label > 0 && counts[label].solid > 0)) return labels;
  const out = labels.map((label, i) => (label > 0 && solid[i] && kept[label] ? label : 0));
  let left = [...labels.keys()].filter((i) => labels[i] > 0 && out[i] === 0);
  while (left.length > 0) {
    const settled = left.map((i) => {
      const near = new Uint8Array(kinds);
      const u = Math.floor(i / bins);
      for (let du = -1; du <= 1; du++) {
        for (let dv = -1; dv <= 1; dv++) near[out[at(u + du, (i % bins) + dv)]]++;
      }
      near[0] = 0;
      return near.indexOf(Math.max(...near));
    });
    if (settled.every((label) => label === 0)) break;
    left.forEach((i, n) => {
      out[i] = settled[n];
    });
    left = left.filter((i) => out[i] === 0);
  }
  // Specks that touch nothing solid keep what they showed.
  for (const i of left) out[i] = labels[i];
  return out;
}

/** The middle of the widest stretch of columns with the least print. */
export function emptiestColumn({ width, printCount }: MotifRaster, columns: number): number {
  const print = new Float64Array(columns);
  for (let x = 0; x < width; x++) print[x % columns] += printCount[x];
  // A stray pixel is not print: all under a hundredth of the fullest column count as empty.
  const least = Math.max(Math.min(...print), 0.01 * Math.max(...print));
  let best = 0;
  let longest = 0;
  let run = 0;
  for (let x = 0; x < 2 * columns; x++) {
    run = print[x % columns] <= least ? run + 1 : 0;
    if (run > longest && run <= columns) {
      longest = run;
      best = x - (run >> 1);
    }
  }
  return best % columns;
}
