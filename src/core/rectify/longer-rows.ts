import { raster } from '../raster/raster.js';
import type { StraightCloth } from './straight-cloth.js';

/** Of the rows that are made one so many suffice for a mean. */
const EVERY = 2;

/**
 * The straight picture with so many rows made one, the mean of every second of them; a place is cloth where all those show it. Rows left
 * over at the end are dropped.
 */
export function longerRows({ picture, cloth, ...frame }: StraightCloth, times: number): StraightCloth {
  const { width } = picture;
  const height = Math.floor(picture.height / times);
  const data = new Uint8Array(3 * width * height);
  const shown = new Uint8Array(width * height).fill(1);
  const sums = new Uint32Array(3 * width);
  for (let y = 0; y < height; y++) {
    sums.fill(0);
    for (let t = 0; t < times; t += EVERY) {
      const row = (y * times + t) * width;
      addRow(picture.data, 3 * row, sums);
      onlyWhere(cloth, row, shown, y * width, width);
    }
    takeMeans(sums, Math.ceil(times / EVERY), data, 3 * y * width);
  }
  return {
    ...frame,
    picture: raster(width, height, 3, data),
    cloth: shown,
    mmPerRow: times * frame.mmPerRow,
  };
}

function addRow(data: Uint8Array, from: number, sums: Uint32Array): void {
  for (let i = 0, k = from; i < sums.length; i++, k++) sums[i] += data[k];
}

function onlyWhere(cloth: Uint8Array, from: number, shown: Uint8Array, at: number, count: number): void {
  for (let i = 0; i < count; i++) shown[at + i] &= cloth[from + i];
}

function takeMeans(sums: Uint32Array, count: number, data: Uint8Array, at: number): void {
  for (let i = 0; i < sums.length; i++) data[at + i] = sums[i] / count + 0.5;
}
