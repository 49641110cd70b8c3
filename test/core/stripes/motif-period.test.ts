import { describe, expect, it } from 'vitest';
import { coarseColumns, shiftedCorrelation } from '../../../src/core/stripes/motif-period.js';
import { type MotifRaster, UNSEEN } from '../../../src/core/stripes/motif-raster.js';
import { seededRandom } from '../../support/photo-painter/seeded-random.js';

const REPEATS = 4;
const COLUMNS = 7;
const WIDTH = REPEATS * COLUMNS;
const HEIGHT = 31;

/** Spots of print drawn at random, and holes where no cloth was seen. */
function drawnRaster(seed: number, hidden: (x: number, y: number) => boolean): MotifRaster {
  const random = seededRandom(seed);
  const labels = new Uint8Array(WIDTH * HEIGHT);
  const residual = new Float32Array(3 * WIDTH * HEIGHT);
  const printCount = new Float64Array(WIDTH);
  for (let y = 0; y < HEIGHT; y++) {
    for (let x = 0; x < WIDTH; x++) {
      const i = y * WIDTH + x;
      const spot = random.between(0, 1) < 0.4;
      if (hidden(x, y)) {
        labels[i] = UNSEEN;
        continue;
      }
      if (!spot) continue;
      labels[i] = 1;
      printCount[x]++;
      for (let c = 0; c < 3; c++) residual[3 * i + c] = random.between(-40, 60);
    }
  }
  const grid = { width: WIDTH, height: HEIGHT, columnsPerRepeat: COLUMNS, fromUMm: 0, topVMm: 0 };
  const ground = { bytes: new Uint8Array(3 * WIDTH * HEIGHT), bandOf: new Int16Array(WIDTH), bandLab: [] };
  return { ...grid, ...ground, pitchUMm: 1, pitchVMm: 1, labels, residual, printCount };
}

/**
 * The autocorrelation of two dimensions by its definition: over all pairs of places seen, one `columns` to the right of and
 * `lag` rows above the other, each column's own mean taken off; over the most that the pairs' energies allow.
 */
function directSum({ labels, residual }: MotifRaster, columns: number, lag: number): number {
  const isSeen = (x: number, y: number) =>
    x >= 0 && x < WIDTH && y >= 0 && y < HEIGHT && labels[y * WIDTH + x] !== UNSEEN;
  const columnMean = (x: number, c: number): number => {
    const rows = Array.from({ length: HEIGHT }, (_, y) => y).filter((y) => isSeen(x, y));
    return rows.reduce((sum, y) => sum + residual[3 * (y * WIDTH + x) + c], 0) / rows.length;
  };
  const means = Array.from({ length: WIDTH }, (_, x) => [0, 1, 2].map((c) => columnMean(x, c)));
  const at = (x: number, y: number, c: number) => residual[3 * (y * WIDTH + x) + c] - means[x][c];
  let product = 0;
  let head = 0;
  let tail = 0;
  for (let x = 0; x < WIDTH; x++) {
    for (let y = 0; y < HEIGHT; y++) {
      if (!isSeen(x, y) || !isSeen(x + columns, y - lag)) continue;
      for (let c = 0; c < 3; c++) {
        product += at(x, y, c) * at(x + columns, y - lag, c);
        head += at(x, y, c) ** 2;
        tail += at(x + columns, y - lag, c) ** 2;
      }
    }
  }
  return product / Math.sqrt(head * tail);
}

const HOLES = [
  ['all seen', () => false],
  ['a ruler along', (x: number) => x >= 9 && x < 12],
  ['a ruler across', (_: number, y: number) => y >= 20 && y < 24],
  ['a ruler aslant', (x: number, y: number) => Math.abs(x - 4 - 0.6 * y) < 2.5],
  ['holes anywhere', (x: number, y: number) => (x * 7 + y * 13 + x * y) % 5 === 0],
] as const;

describe('shiftedCorrelation', () => {
  it.each(HOLES)('is the direct sum over all pairs of places: %s', (_, hidden) => {
    const raster = drawnRaster(6, hidden);
    const coarse = coarseColumns(raster);
    const lags = Array.from({ length: 41 }, (__, k) => k - 20);
    for (let repeats = 0; repeats < REPEATS; repeats++) {
      const found = shiftedCorrelation(coarse, repeats, lags, 0);
      lags.forEach((lag, k) => {
        expect(found[k], `${repeats} repeats, ${lag} rows`).toBeCloseTo(
          directSum(raster, repeats * COLUMNS, lag),
          5,
        );
      });
    }
  });

  it('is one at no shift, and at every place of a print that repeats exactly', () => {
    const once = drawnRaster(8, () => false);
    // The first repeat again, four rows higher in each next one, and every eight rows.
    const residual = once.residual.map((_, i) => {
      const c = i % 3;
      const x = ((i - c) / 3) % WIDTH;
      const y = Math.floor(i / 3 / WIDTH);
      const up = (y + 4 * Math.floor(x / COLUMNS)) % 8;
      return once.residual[3 * (up * WIDTH + (x % COLUMNS)) + c];
    });
    const raster = { ...once, height: 24, residual, labels: once.labels.fill(1) };
    const coarse = coarseColumns(raster);
    expect(shiftedCorrelation(coarse, 0, [0, 8])[1]).toBeCloseTo(1, 5);
    expect(shiftedCorrelation(coarse, 1, [4])[0]).toBeCloseTo(1, 5);
    expect(shiftedCorrelation(coarse, 2, [0, 8])[0]).toBeCloseTo(1, 5);
    expect(shiftedCorrelation(coarse, 1, [0])[0]).toBeLessThan(0.6);
  });

  it('is not a number where too little overlaps', () => {
    const coarse = coarseColumns(drawnRaster(6, () => false));
    expect(shiftedCorrelation(coarse, 0, [HEIGHT - 1])[0]).toBeNaN();
    expect(shiftedCorrelation(coarse, REPEATS, [0])[0]).toBeNaN();
  });
});
