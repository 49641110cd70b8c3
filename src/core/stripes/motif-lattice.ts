import { inverse, Matrix } from 'ml-matrix';
import { median, robustSd } from '../math/robust.js';
import { wrap } from '../math/wrap.js';
import { alternation } from './motif-alternation.js';
import { latticeFromDiagonals } from './motif-diagonals.js';
import {
  type CoarseColumns,
  coarseColumns,
  foldedVariance,
  peakHeight,
  peakNear,
  periodCandidates,
  printedColumns,
  shiftedCorrelation,
} from './motif-period.js';
import { type MotifRaster, UNSEEN } from './motif-raster.js';

/** How the print repeats, mm. */
export interface PrintLattice {
  readonly alongMm: number;
  /** From the scatter of the motifs about the lattice. */
  readonly alongSdMm: number;
  /** Repeats of the stripes to one repeat of the print across; null where none was seen. */
  readonly acrossRepeats: number | null;
  /** From one repeat of the print to the next towards growing u: shift towards growing v, [0, alongMm). */
  readonly dropMm: number;
}

/** Part of the print's variance a period may leave unexplained. */
const MOST_UNEXPLAINED = 0.6;
/** Of a print that changes from one period to the next, see alternation: true periods stay under 0.02 ... */
const ALTERNATES = 0.03;
/** ... or under so many times what chance brings about, where few repeats are in view. */
const OVER_CHANCE = 2;
/** A lattice stands on at least this many motifs, on this part of the places where one should be. */
const FEWEST_SITES = 4;
const LEAST_KEPT = 0.6;
/** Of least squares. */
const ROUNDS = 3;
/** The print's repeat across is looked for up to this many repeats of the stripes. */
const MOST_ACROSS = 8;

/**
 * The lattice of the print, or null where nothing repeats along the stripes.
 * @param finer the print at a finer pitch, given a lattice: asked whether it changes from one repeat to the next.
 */
export function findPrintLattice(
  raster: MotifRaster,
  finer: (lattice: PrintLattice) => MotifRaster = () => raster,
): PrintLattice | null {
  const coarse = coarseColumns(raster);
  if (coarse.columns.length === 0) return null;
  const perCoarse = coarse.rowMm / raster.pitchVMm;
  const rows = periodCandidates(coarse).find(
    (lag) => foldedVariance(raster, lag * perCoarse) < MOST_UNEXPLAINED,
  );
  if (rows === undefined) return diagonalLattice(raster, coarse);
  const once = latticeWith(raster, coarse, rows);
  if (once === null) return null;
  // A B A B with A close to B correlates well at half its period.
  const parts = [2, 3].find((n) => changes(finer(once), once.alongMm, n));
  return parts === undefined
    ? once
    : latticeWith(raster, coarse, (parts * once.alongMm) / raster.pitchVMm / perCoarse);
}

function changes(fine: MotifRaster, alongMm: number, parts: number): boolean {
  const rows = alongMm / fine.pitchVMm;
  if (2 * parts * rows > fine.height) return false;
  const { change, chance } = alternation(fine, rows, parts);
  return change > Math.max(ALTERNATES, OVER_CHANCE * chance);
}

/** Where the print is not seen twice along the stripes, but beside itself. */
function diagonalLattice(raster: MotifRaster, coarse: CoarseColumns): PrintLattice | null {
  const most = mostAcross(raster);
  const repeatRows = (raster.columnsPerRepeat * raster.pitchUMm) / coarse.rowMm;
  const found = most < 1 ? null : latticeFromDiagonals(coarse, most, repeatRows);
  return found && settled(raster, coarse, found.along, found.columns, found.shift);
}

function latticeWith(raster: MotifRaster, coarse: CoarseColumns, periodRows: number): PrintLattice | null {
  const { repeats, lag } = shiftAcross(raster, coarse, periodRows);
  return settled(raster, coarse, periodRows, repeats, lag);
}

/** Lengths in coarse rows, put right by the motifs themselves. */
function settled(
  raster: MotifRaster,
  { rowMm }: CoarseColumns,
  periodRows: number,
  acrossRepeats: number | null,
  lagRows: number,
): PrintLattice | null {
  let lattice: PrintLattice = {
    alongMm: periodRows * rowMm,
    alongSdMm: 0,
    acrossRepeats,
    dropMm: lagRows * rowMm,
  };
  for (let round = 0; round < ROUNDS; round++) {
    const better = refined(raster, lattice);
    if (better === null) return null;
    lattice = better;
  }
  return lattice;
}

const mostAcross = ({ width, columnsPerRepeat }: MotifRaster): number =>
  Math.min(MOST_ACROSS, width / columnsPerRepeat - 1);

/** Correlation across, against that along, at which the print counts as found again; and what half of it may lack to its double. */
const FOUND_AGAIN = 0.7;
const LESS_THAN_DOUBLE = 0.15;

/** Along by how much the print is shifted `repeats` repeats on: the fewest repeats at which it is found again. */
function shiftAcross(
  raster: MotifRaster,
  coarse: CoarseColumns,
  period: number,
): { repeats: number | null; lag: number } {
  const most = mostAcross(raster);
  const half = Math.ceil(period / 2) + 1;
  const lags = Array.from({ length: 2 * half + 1 }, (_, k) => k - half);
  const alike = shiftedCorrelation(coarse, 0, [Math.round(period)])[0];
  const known = new Map<number, { height: number; lag: number }>();
  const bestAt = (repeats: number): { height: number; lag: number } => {
    const held = known.get(repeats);
    if (held) return held;
    const c = shiftedCorrelation(coarse, repeats, lags);
    let best = 0;
    for (let k = 1; k < c.length; k++) if (c[k] > c[best] || Number.isNaN(c[best])) best = k;
    const found = { height: peakHeight(c, best), lag: wrap(peakNear(c, best) - half, period) };
    known.set(repeats, found);
    return found;
  };
  for (let repeats = 1; repeats <= most; repeats++) {
    const { height, lag } = bestAt(repeats);
    if (!(height > FOUND_AGAIN * alike)) continue;
    // Neighbours that differ a little correlate well; every other one then does better still.
    if (2 * repeats <= most && height < bestAt(2 * repeats).height - LESS_THAN_DOUBLE * alike) continue;
    return { repeats, lag };
  }
  return { repeats: null, lag: 0 };
}

/** Where a place of the raster falls in the cell of the lattice. */
export interface CellGrid {
  /** The whole raster's where the print does not repeat across. */
  readonly columns: number;
  readonly bins: number;
  readonly binMm: number;
  readonly columnOf: (x: number) => number;
  /** Counts cells across, from the one that starts at the column given. */
  readonly acrossOf: (x: number) => number;
  /** Up from the raster's top edge, less the drop, in periods: the whole part counts repeats along. */
  readonly turns: (x: number, y: number) => number;
}

/** @param start column of the raster at which a cell starts. */
export function cellGrid(raster: MotifRaster, lattice: PrintLattice, start = 0): CellGrid {
  const { alongMm, dropMm, acrossRepeats } = lattice;
  const columns = acrossRepeats === null ? raster.width : acrossRepeats * raster.columnsPerRepeat;
  const bins = Math.max(3, Math.round(alongMm / raster.pitchVMm));
  const rows = alongMm / raster.pitchVMm;
  const dropRows = dropMm / raster.pitchVMm;
  const acrossOf = (x: number): number => Math.floor((x - start) / columns);
  return {
    columns,
    bins,
    binMm: alongMm / bins,
    columnOf: (x) => wrap(x - start, columns),
    acrossOf,
    turns: (x, y) => (-(y + 0.5) - acrossOf(x) * dropRows) / rows,
  };
}

/** Mean of the print over the lattice, three values a place, from the columns named. */
function meanCell(raster: MotifRaster, grid: CellGrid, printed: readonly number[]): Float64Array {
  const { width, height, labels, residual } = raster;
  const { columns, bins } = grid;
  const mean = new Float64Array(3 * columns * bins);
  const count = new Float64Array(columns * bins);
  for (const x of printed) {
    const column = grid.columnOf(x);
    for (let y = 0; y < height; y++) {
      const i = y * width + x;
      if (labels[i] === UNSEEN) continue;
      const t = grid.turns(x, y);
      const bin = Math.min(bins - 1, Math.floor((t - Math.floor(t)) * bins));
      const o = column * bins + bin;
      count[o]++;
      if (labels[i] === 0) continue;
      for (let c = 0; c < 3; c++) mean[3 * o + c] += residual[3 * i + c];
    }
  }
  for (let o = 0; o < count.length; o++) {
    if (count[o] > 0) for (let c = 0; c < 3; c++) mean[3 * o + c] /= count[o];
  }
  return mean;
}

/** What one place of the lattice showed. */
interface Site {
  readonly across: number;
  readonly along: number;
  /** Sums over the place: squares of the print there and of the mean print, their product. */
  own: number;
  expected: number;
  product: number;
  /** The mean print's slope along v, rows: its squares, and its product with what the place has less than the mean. */
  slope: number;
  lack: number;
}

/** A motif further from its place than this is no witness: the slopes tell small shifts only. */
const FAR_ROWS = 3;

/**
 * One round of least squares: how far each motif lies from where the lattice has it (by the slopes of the mean print,
 * as in Lucas and Kanade 1981), then the period and the drop that take those shifts away. Null where too few places carry the motif.
 */
function refined(raster: MotifRaster, lattice: PrintLattice): PrintLattice | null {
  const sites = sitesOf(raster, lattice);
  const fullest = Math.max(...sites.map((s) => s.expected));
  // A place cut by the frame or the ruler tells less; half a motif is asked for.
  const seen = sites.filter((s) => s.expected > 0.5 * fullest);
  const kept = seen.filter((s) => s.product > 0.5 * Math.sqrt(s.own * s.expected));
  if (kept.length < FEWEST_SITES || kept.length < LEAST_KEPT * seen.length) return null;
  const shifts = kept.map((s) => Math.max(-FAR_ROWS, Math.min(FAR_ROWS, s.slope > 0 ? s.lack / s.slope : 0)));
  const middle = median(shifts);
  const spread = Math.max(0.1, robustSd(shifts));
  const used = kept
    .map((site, i) => ({ site, shift: shifts[i] }))
    .filter(({ shift }) => Math.abs(shift - middle) < 4 * spread);
  const several = lattice.acrossRepeats !== null && new Set(used.map((u) => u.site.across)).size > 1;
  if (new Set(used.map((u) => u.site.along)).size < 2) return null;
  const rows = used.map(({ site }) => (several ? [1, site.along, site.across] : [1, site.along]));
  const x = new Matrix(rows);
  const y = Matrix.columnVector(used.map((u) => u.shift));
  const cover = inverse(x.transpose().mmul(x));
  const found = cover.mmul(x.transpose().mmul(y));
  const left = y.clone().sub(x.mmul(found)).norm('frobenius') ** 2;
  const variance = left / Math.max(1, used.length - rows[0].length);
  const { pitchVMm } = raster;
  const alongMm = lattice.alongMm + found.get(1, 0) * pitchVMm;
  return {
    ...lattice,
    alongMm,
    alongSdMm: Math.sqrt(variance * cover.get(1, 1)) * pitchVMm,
    dropMm: wrap(lattice.dropMm + (several ? found.get(2, 0) * pitchVMm : 0), alongMm),
  };
}

function sitesOf(raster: MotifRaster, lattice: PrintLattice): Site[] {
  const { width, height, labels, residual } = raster;
  const grid = cellGrid(raster, lattice);
  const { bins, turns } = grid;
  const printed = printedColumns(raster);
  const mean = meanCell(raster, grid, printed);
  const sites = new Map<string, Site>();
  const binsPerRow = raster.pitchVMm / grid.binMm;
  for (const x of printed) {
    const across = grid.acrossOf(x);
    const base = grid.columnOf(x) * bins;
    let site: Site | undefined;
    for (let y = 0; y < height; y++) {
      const i = y * width + x;
      if (labels[i] === UNSEEN) continue;
      const t = turns(x, y);
      const along = Math.floor(t);
      if (site === undefined || site.along !== along) {
        const key = `${across},${along}`;
        site = sites.get(key);
        if (site === undefined) {
          site = { across, along, own: 0, expected: 0, product: 0, slope: 0, lack: 0 };
          sites.set(key, site);
        }
      }
      const place = (t - along) * bins - 0.5;
      const low = Math.floor(place);
      const part = place - low;
      const p = 3 * (base + ((low + bins) % bins));
      const q = 3 * (base + ((low + 1) % bins));
      for (let c = 0; c < 3; c++) {
        const rise = mean[q + c] - mean[p + c];
        const m = mean[p + c] + part * rise;
        const z = residual[3 * i + c];
        const slope = rise * binsPerRow;
        site.own += z * z;
        site.expected += m * m;
        site.product += z * m;
        site.slope += slope * slope;
        site.lack += slope * (m - z);
      }
    }
  }
  return [...sites.values()];
}
