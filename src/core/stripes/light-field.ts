import { linearFromByte } from '../colour/srgb.js';
import { middleOf } from '../math/select.js';
import type { StraightCloth } from '../rectify/straight-cloth.js';

/** Smooth light over a straight picture: natural logarithm of the gain at evenly spaced nodes, cell middles first. */
export interface LightField {
  readonly columns: number;
  readonly rows: number;
  /** rows x columns values; the picture divided by exp(value) is evenly lit. */
  readonly logGain: Float64Array;
  readonly width: number;
  readonly height: number;
}

export const NODES_ACROSS = 14;
export const NODES_ALONG = 10;
/** Light departs from what it is around there by no more than this (natural logarithm): what does is a motif, and may fill some cells. */
const MOST_LIGHT = 0.9;
const MOTIF_CELLS = 2;
/** So many cells either way make a cell's surroundings: shadows reach over more than half of them, motifs do not. */
const AROUND_CELLS = 2;
/** Least part of a column that must be as near its middle as light leaves it, or that middle may be a motif's colour as well as the band's. */
const LEAST_NEAR = 0.6;
/** Places that tell a column's middle, and a cell's light, at least. */
const FEWEST_ROWS = 12;
const FEWEST_PLACES = 20;

/**
 * What the light does along the stripes. A stripe has one colour along its length, so every pixel's departure from its column's
 * median is light, or a motif, which departs from its surroundings: the light is found roughly first, then without what does. The
 * light's part that is constant along the stripes cannot be told from colour here; the repeat tells it later.
 */
export function lightAlong(cloth: StraightCloth): LightField {
  const { width, height } = cloth.picture;
  const lightOf = (logGain: Float64Array): LightField => ({
    columns: NODES_ACROSS,
    rows: NODES_ALONG,
    logGain,
    width,
    height,
  });
  const places = placesAsked(cloth);
  const even = new Float64Array(NODES_ACROSS * NODES_ALONG);
  const rough = departuresOfCells(places, lightOf(even), 0, ROUGHLY).map(medianOf);
  let field = filled(middlesAround(rough), rough);
  for (let round = 0; round < 2; round++) {
    const departures = departuresOfCells(places, lightOf(field), LEAST_NEAR, 1);
    const found = departures.map(medianOf);
    const isBare = bareCells(found);
    departures.forEach((own, cell) => {
      if (!isBare[cell]) return;
      // A motif that covers a part of the cell draws its median; what fills most of it leaves nothing to tell.
      const lit = own.filter((departure) => Math.abs(departure) <= MOST_LIGHT);
      found[cell] = 2 * lit.length < own.length ? Number.NaN : medianOf(lit);
    });
    field = field.map((v, i) => v + (Number.isNaN(found[i]) ? 0 : found[i]));
    field = smoothed(filled(field, found), 0.5);
  }
  return lightOf(field);
}

/** Log luminance of evenly spread pixels of cloth, column by column. */
interface Places {
  /** Column of the picture, and its first place; one entry more than columns. */
  readonly columns: Int32Array;
  readonly starts: Int32Array;
  /** Of each place: its row of the picture, and its value. */
  readonly rows: Int32Array;
  readonly values: Float64Array;
}

/** So many, or up to twice as many. */
const COLUMNS_ASKED = 500;
const ROWS_ASKED = 140;
/** One column in so many tells the rough light. */
const ROUGHLY = 2;

function placesAsked({ picture: { width, height, data }, cloth }: StraightCloth): Places {
  const rowStep = Math.max(1, Math.floor(height / ROWS_ASKED));
  const columnStep = Math.max(1, Math.floor(width / COLUMNS_ASKED));
  const columns = new Int32Array(Math.ceil(width / columnStep));
  const starts = new Int32Array(columns.length + 1);
  const rows = new Int32Array(columns.length * Math.ceil(height / rowStep));
  const values = new Float64Array(rows.length);
  let n = 0;
  for (let c = 0; c < columns.length; c++) {
    const x = c * columnStep;
    columns[c] = x;
    starts[c] = n;
    for (let y = 0; y < height; y += rowStep) {
      const i = y * width + x;
      if (!cloth[i]) continue;
      rows[n] = y;
      values[n++] = logLuminance(data, 3 * i);
    }
  }
  starts[columns.length] = n;
  return { columns, starts, rows, values };
}

/**
 * How places of every cell depart from the middle of their column (natural logarithm), the light so far taken off; none of columns
 * less than `leastNear` of which is near their middle. Every `step`-th column is asked.
 */
function departuresOfCells(
  { columns, starts, rows, values }: Places,
  light: LightField,
  leastNear: number,
  step: number,
): Float64Array[] {
  const even = new Float64Array(2 * ROWS_ASKED);
  const sorted = new Float64Array(even.length);
  const rowCells = new Int32Array(even.length);
  const counts = new Int32Array(NODES_ACROSS * NODES_ALONG);
  // One list after the other; a cell can hold no more than its share of the places asked.
  const most = Math.ceil(columns.length / NODES_ACROSS + 1) * Math.ceil(even.length / NODES_ALONG + 1);
  const departures = new Float64Array(most * counts.length);
  for (let c = 0; c < columns.length; c += step) {
    const n = starts[c + 1] - starts[c];
    if (n < FEWEST_ROWS) continue;
    const x = columns[c];
    withoutLight(values, rows, starts[c], n, light, x, even, rowCells);
    sorted.set(even);
    const middle = middleOf(sorted, n);
    let near = 0;
    for (let k = 0; k < n; k++) if (Math.abs(even[k] - middle) <= MOST_LIGHT) near++;
    if (near < leastNear * n) continue;
    const cx = Math.min(NODES_ACROSS - 1, Math.floor((x / light.width) * NODES_ACROSS));
    for (let k = 0; k < n; k++) {
      const cell = rowCells[k] * NODES_ACROSS + cx;
      departures[cell * most + counts[cell]++] = even[k] - middle;
    }
  }
  return Array.from(counts, (n, cell) => departures.slice(cell * most, cell * most + n));
}

/** The median, or NaN of too few places; puts them in another order. */
const medianOf = (own: Float64Array): number =>
  own.length >= FEWEST_PLACES ? middleOf(own, own.length) : Number.NaN;

/** Of every cell, the median of the known cells around it and its own; 0 where none is known. */
function middlesAround(found: readonly number[]): Float64Array {
  return Float64Array.from(found, (_own, i) => {
    const x = i % NODES_ACROSS;
    const y = (i - x) / NODES_ACROSS;
    const around: number[] = [];
    for (let v = Math.max(0, y - AROUND_CELLS); v <= Math.min(NODES_ALONG - 1, y + AROUND_CELLS); v++) {
      for (let u = Math.max(0, x - AROUND_CELLS); u <= Math.min(NODES_ACROSS - 1, x + AROUND_CELLS); u++) {
        const median = found[v * NODES_ACROSS + u];
        if (!Number.isNaN(median)) around.push(median);
      }
    }
    return around.length === 0 ? 0 : middleOf(Float64Array.from(around), around.length);
  });
}

/**
 * Cells of cloth, with or without motifs: those whose median is as light goes, and a few others between two such along the stripes. What
 * is far from them to the end of the picture is a table, or the deep shadow of something.
 */
function bareCells(found: readonly number[]): Uint8Array {
  const bare = new Uint8Array(found.length);
  for (let x = 0; x < NODES_ACROSS; x++) {
    let last = -1;
    for (let y = 0; y < NODES_ALONG; y++) {
      const cell = y * NODES_ACROSS + x;
      if (!(Math.abs(found[cell]) <= MOST_LIGHT)) continue;
      const first = last >= 0 && y - last - 1 <= MOTIF_CELLS ? last + 1 : y;
      for (let k = first; k <= y; k++) bare[k * NODES_ACROSS + x] = 1;
      last = y;
    }
  }
  return bare;
}

/** Values of one column's places less the light so far, and their rows of cells. */
function withoutLight(
  values: Float64Array,
  rows: Int32Array,
  from: number,
  n: number,
  light: LightField,
  x: number,
  even: Float64Array,
  rowCells: Int32Array,
): void {
  for (let k = 0; k < n; k++) {
    const y = rows[from + k];
    even[k] = values[from + k] - logGainAt(light, x + 0.5, y + 0.5);
    rowCells[k] = Math.min(NODES_ALONG - 1, Math.floor((y / light.height) * NODES_ALONG));
  }
}

/** Natural logarithm of linear luminance (Rec. 709) of the pixel whose first byte stands at `at`. */
export function logLuminance(data: Uint8Array, at: number): number {
  const y =
    0.2126 * linearFromByte[data[at]] +
    0.7152 * linearFromByte[data[at + 1]] +
    0.0722 * linearFromByte[data[at + 2]];
  return Math.log(y + 0.002);
}

/** Cells without pixels take the mean of their known neighbours, ring by ring. */
function filled(field: Float64Array, known: readonly number[]): Float64Array {
  const out = Float64Array.from(field);
  const done = known.map((v) => !Number.isNaN(v));
  for (let round = 0; round < NODES_ACROSS + NODES_ALONG; round++) {
    const before = [...done];
    for (let i = 0; i < out.length; i++) {
      if (before[i]) continue;
      let sum = 0;
      let count = 0;
      for (const j of neighbours(i)) {
        if (!before[j]) continue;
        sum += out[j];
        count++;
      }
      if (count === 0) continue;
      out[i] = sum / count;
      done[i] = true;
    }
  }
  return out;
}

function neighbours(i: number): number[] {
  const x = i % NODES_ACROSS;
  const y = (i - x) / NODES_ACROSS;
  const out: number[] = [];
  if (x > 0) out.push(i - 1);
  if (x < NODES_ACROSS - 1) out.push(i + 1);
  if (y > 0) out.push(i - NODES_ACROSS);
  if (y < NODES_ALONG - 1) out.push(i + NODES_ACROSS);
  return out;
}

function smoothed(field: Float64Array, share: number): Float64Array {
  return field.map((v, i) => {
    const around = neighbours(i);
    return (1 - share) * v + (share * around.reduce((s, j) => s + field[j], 0)) / around.length;
  });
}

/** Log gain at a place of the straight picture (px, corner origin), straight lines between the nodes. */
export function logGainAt(light: LightField, x: number, y: number): number {
  const fx = Math.min(light.columns - 1.001, Math.max(0, (x / light.width) * light.columns - 0.5));
  const fy = Math.min(light.rows - 1.001, Math.max(0, (y / light.height) * light.rows - 0.5));
  const ix = fx | 0;
  const iy = fy | 0;
  const ax = fx - ix;
  const ay = fy - iy;
  const i = iy * light.columns + ix;
  const g = light.logGain;
  const top = g[i] + (g[i + 1] - g[i]) * ax;
  const low = g[i + light.columns] + (g[i + light.columns + 1] - g[i + light.columns]) * ax;
  return top + (low - top) * ay;
}

/**
 * 1 / gain of the light down column x, at rows from, from + step ... Between two rows of nodes the logarithm runs straight, so the
 * gain grows by one factor from place to place.
 */
export function evenGains(light: LightField, x: number, from: number, step: number, out: Float64Array): void {
  const perRow = light.rows / light.height;
  let k = 0;
  for (let y = from; y < light.height; ) {
    // Place of the row among the nodes; level before the first and beyond the last.
    const place = (y + 0.5) * perRow - 0.5;
    const end = place < 0 ? 0 : place < light.rows - 1 ? Math.floor(place) + 1 : Number.POSITIVE_INFINITY;
    const last = Math.min(light.height, (end + 0.5) / perRow - 0.5);
    const log = logGainAt(light, x + 0.5, y + 0.5);
    const slope = y + 1 < last ? logGainAt(light, x + 0.5, y + 1.5) - log : 0;
    const growth = Math.exp(-slope * step);
    let gain = Math.exp(-log);
    do {
      out[k++] = gain;
      gain *= growth;
      y += step;
    } while (y < last);
  }
}
