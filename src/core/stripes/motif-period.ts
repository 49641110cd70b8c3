import type { MotifRaster } from './motif-raster.js';
import { UNSEEN } from './motif-raster.js';

/** The print in coarse columns, for correlation along the stripes: `depth` values a place, their mean along the column taken off. */
export interface CoarseColumns {
  readonly rows: number;
  readonly rowMm: number;
  readonly columns: readonly CoarseColumn[];
}

interface CoarseColumn {
  readonly repeat: number;
  readonly bin: number;
  /** Three values a row. */
  readonly values: Float32Array;
  readonly energy: Float32Array;
  /** 1 where seen, else 0. */
  readonly seen: Float32Array;
}

const MOST_ROWS = 400;
const BINS = 16;

/** Columns of the repeat that carry print, in bins narrow against a motif. */
export function coarseColumns(raster: MotifRaster): CoarseColumns {
  const { width, height, columnsPerRepeat, labels, residual, pitchVMm } = raster;
  const step = Math.ceil(height / MOST_ROWS);
  const rows = Math.floor(height / step);
  const bins = Math.min(BINS, columnsPerRepeat);
  const all: CoarseColumn[] = [];
  const printed = new Uint8Array(bins);
  for (const x of printedColumns(raster)) {
    printed[Math.floor((((x % columnsPerRepeat) + 0.5) * bins) / columnsPerRepeat)] = 1;
  }
  for (let repeat = 0; repeat < width / columnsPerRepeat; repeat++) {
    for (let bin = 0; bin < bins; bin++) {
      if (!printed[bin]) continue;
      const from = repeat * columnsPerRepeat + Math.round((bin * columnsPerRepeat) / bins);
      const to = repeat * columnsPerRepeat + Math.round(((bin + 1) * columnsPerRepeat) / bins);
      const values = new Float32Array(3 * rows);
      const seen = new Float32Array(rows);
      const sums = [0, 0, 0];
      let count = 0;
      for (let r = 0; r < rows; r++) {
        let n = 0;
        for (let y = r * step; y < (r + 1) * step; y++) {
          for (let i = y * width + from; i < y * width + to; i++) {
            if (labels[i] === UNSEEN) continue;
            n++;
            for (let c = 0; c < 3; c++) values[3 * r + c] += residual[3 * i + c];
          }
        }
        // Half hidden is hidden: the rim of the ruler is no place to compare.
        if (2 * n < step * (to - from)) {
          values.fill(0, 3 * r, 3 * r + 3);
          continue;
        }
        seen[r] = 1;
        count++;
        for (let c = 0; c < 3; c++) {
          values[3 * r + c] /= n;
          sums[c] += values[3 * r + c];
        }
      }
      const energy = new Float32Array(rows);
      for (let r = 0; r < rows; r++) {
        if (!seen[r]) continue;
        for (let c = 0; c < 3; c++) {
          values[3 * r + c] -= sums[c] / count;
          energy[r] += values[3 * r + c] ** 2;
        }
      }
      all.push({ repeat, bin, values, energy, seen });
    }
  }
  return { rows, rowMm: step * pitchVMm, columns: all };
}

/**
 * Correlation of the print with itself shifted by `repeats` repeats towards growing u and by each lag of
 * `lags` rows towards growing v, over places seen in both, each lag divided by the most its overlap could give (so that neither
 * the photo's frame nor the ruler favours any). NaN where under `least` of the print's own energy overlaps.
 */
export function shiftedCorrelation(
  { rows, columns }: CoarseColumns,
  repeats: number,
  lags: readonly number[],
  least = 0.1,
): Float64Array {
  const at = new Map(columns.map((c) => [`${c.repeat},${c.bin}`, c]));
  const pairs = columns.flatMap((low) => {
    const high = at.get(`${low.repeat + repeats},${low.bin}`);
    return high ? [{ low, high }] : [];
  });
  const total = columns.reduce((s, c) => s + c.energy.reduce((t, e) => t + e, 0), 0);
  return Float64Array.from(lags, (lag) => {
    let product = 0;
    let head = 0;
    let tail = 0;
    for (const { low, high } of pairs) {
      const { values, energy, seen } = low;
      const { values: others, energy: otherEnergy, seen: otherSeen } = high;
      // v grows as rows fall.
      const to = Math.min(rows, rows + lag);
      for (let r = Math.max(0, lag); r < to; r++) {
        const q = r - lag;
        // Values are 0 where unseen; the energies must count places seen in both only.
        head += energy[r] * otherSeen[q];
        tail += otherEnergy[q] * seen[r];
        const i = 3 * r;
        const j = 3 * q;
        product += values[i] * others[j] + values[i + 1] * others[j + 1] + values[i + 2] * others[j + 2];
      }
    }
    const most = Math.sqrt(head * tail);
    return most > least * total ? product / most : Number.NaN;
  });
}

/** A peak of a correlation sampled at whole lags: its place between them by a parabola. */
export function peakNear(values: ArrayLike<number>, i: number): number {
  if (i <= 0 || i >= values.length - 1) return i;
  const bend = values[i - 1] - 2 * values[i] + values[i + 1];
  return bend < 0 ? i + (0.5 * (values[i - 1] - values[i + 1])) / bend : i;
}

/** How high that peak is between whole lags. */
export function peakHeight(values: ArrayLike<number>, i: number): number {
  const off = peakNear(values, i) - i;
  return off === 0 ? values[i] : values[i] - 0.25 * (values[i - 1] - values[i + 1]) * off;
}

/** The lowest peak worth trying, and the share of the best. */
const LEAST_PEAK = 0.2;
/** A period must be seen again at twice its length, or in several columns: lags up to this part of the view. */
const LONGEST = 0.55;

/** Lengths (rows, not whole) after which the print may repeat along the stripes, shortest first. */
export function periodCandidates(coarse: CoarseColumns): number[] {
  const longest = Math.floor(LONGEST * coarse.rows);
  const lags = Array.from({ length: longest + 2 }, (_, k) => k);
  const c = shiftedCorrelation(coarse, 0, lags);
  const top = Math.max(...c.subarray(firstDip(c)).filter((v) => !Number.isNaN(v)));
  const found: number[] = [];
  for (let k = Math.max(3, firstDip(c)); k <= longest; k++) {
    if (c[k] >= c[k - 1] && c[k] > c[k + 1] && c[k] > Math.max(LEAST_PEAK, 0.4 * top)) {
      found.push(byMultiples(c, peakNear(c, k)));
    }
  }
  return found;
}

/** Where the correlation first stops falling from lag 0: shorter lags compare a motif with itself. */
function firstDip(c: Float64Array): number {
  let k = 1;
  while (k + 1 < c.length && c[k + 1] < c[k]) k++;
  return k;
}

/** The same period read from its multiples, as far as each is found where the last one foretold it. */
function byMultiples(c: Float64Array, period: number): number {
  let better = period;
  const reach = Math.max(1.5, Math.min(0.2 * period, 6));
  for (let n = 2; n * better + reach + 1 < c.length; n++) {
    let best = Math.round(n * better);
    for (let k = Math.ceil(n * better - reach); k <= n * better + reach; k++) if (c[k] > c[best]) best = k;
    if (!(c[best] > LEAST_PEAK && c[best] >= c[best - 1] && c[best] >= c[best + 1])) break;
    better = peakNear(c, best) / n;
  }
  return better;
}

/**
 * Unexplained share of the print's variance when every column of the raster is folded at `periodRows`: about 1 where the
 * print does not repeat so, whatever the count of repeats in view; near 0 where it does. NaN when no place is seen twice.
 */
export function foldedVariance(raster: MotifRaster, periodRows: number): number {
  const { width, height, labels, residual } = raster;
  const bins = Math.max(2, Math.round(periodRows));
  const count = new Float64Array(bins);
  const sum = new Float64Array(3 * bins);
  const square = new Float64Array(bins);
  let within = 0;
  let withinFree = 0;
  let total = 0;
  let totalFree = 0;
  for (const x of printedColumns(raster)) {
    count.fill(0);
    sum.fill(0);
    square.fill(0);
    for (let y = 0; y < height; y++) {
      const i = y * width + x;
      if (labels[i] === UNSEEN) continue;
      const phase = (y + 0.5) / periodRows;
      const bin = Math.min(bins - 1, Math.floor((phase - Math.floor(phase)) * bins));
      count[bin]++;
      for (let c = 0; c < 3; c++) {
        const z = residual[3 * i + c];
        sum[3 * bin + c] += z;
        square[bin] += z * z;
      }
    }
    const all = [0, 0, 0];
    let squares = 0;
    let n = 0;
    for (let b = 0; b < bins; b++) {
      if (count[b] === 0) continue;
      n += count[b];
      squares += square[b];
      let part = 0;
      for (let c = 0; c < 3; c++) {
        all[c] += sum[3 * b + c];
        part += sum[3 * b + c] ** 2;
      }
      if (count[b] < 2) continue;
      within += square[b] - part / count[b];
      withinFree += count[b] - 1;
    }
    if (n === 0) continue;
    total += squares - (all[0] ** 2 + all[1] ** 2 + all[2] ** 2) / n;
    totalFree += n - 1;
  }
  return withinFree > 0 && total > 0 ? within / withinFree / (total / totalFree) : Number.NaN;
}

/** A column of the repeat holds print if it has this part of what the fullest one has: strays are passed over. */
const LEAST_OF_FULLEST = 0.02;

/** Columns that carry print, over all repeats alike; over all cells of `perCell` columns where that is given. */
export function printedColumns(
  { width, columnsPerRepeat, printCount }: MotifRaster,
  perCell = columnsPerRepeat,
): number[] {
  const count = new Float64Array(perCell);
  for (let x = 0; x < width; x++) count[x % perCell] += printCount[x];
  const least = Math.max(1, LEAST_OF_FULLEST * Math.max(...count));
  return Array.from({ length: width }, (_, x) => x).filter((x) => count[x % perCell] >= least);
}
