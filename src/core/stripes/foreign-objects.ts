import { cie76 } from '../colour/cie76.js';
import type { Lab } from '../colour/lab.js';
import type { BandPixel } from './band-pixels.js';
import { joinAcrossBands, type OddPiece } from './odd-pieces.js';
import type { Segment } from './segment.js';

/** Odd pixels that hang together over so many bands are no figure printed on one or two of them ... */
const BANDS_ACROSS = 4;
/** ... unless there are as many of them as a print has: a hand, scissors or a second ruler come once or twice. */
const FEWEST_FIGURES = 4;
/** What lies wholly in view and is this much longer than wide is a ruler or a tool; a figure is rounder. */
const LONG = 3;
/** Two or three figures of a print are as large as one another, give or take this part of the larger, and of one colour (CIE76). */
const LIKE_SIZE = 0.4;
const LIKE_COLOUR = 15;
/** Pieces smaller than this part of the largest of their colour do not count as figures. */
const CONSIDERABLE = 0.1;
/** Cells that no pixel was sampled in, at the edge of a band, are taken for odd between two odd ones, up to so many. */
const LONGEST_GAP = 8;

/**
 * The pixels without those of things that lie on the cloth: odd pixels that hang together across several bands, in few places. A hand
 * comes in from beyond the picture, a ruler is long; what lies wholly in view, rounder, and comes a second time is a large figure of the
 * cloth's. One alone may be either: it is left out, and said to be.
 *
 * @param pixels Sampled about every stepX columns and stepY rows.
 */
export function withoutForeignObjects(
  pixels: readonly BandPixel[],
  segments: readonly Segment[],
  stepX: number,
  stepY: number,
): readonly BandPixel[] {
  let columns = 0;
  let rows = 0;
  for (const { x, y } of pixels) {
    columns = Math.max(columns, Math.floor(x / stepX) + 1);
    rows = Math.max(rows, Math.floor(y / stepY) + 1);
  }
  const cellOf = ({ x, y }: BandPixel): number => Math.floor(y / stepY) * columns + Math.floor(x / stepX);
  const { odd, ends } = oddCells(pixels, cellOf, columns, rows);
  const bandOf = bandOfColumn(segments, columns, stepX);
  const { labels, pieces } = components(odd, columns, bandOf, ends);
  addColours(pixels, cellOf, labels, pieces);
  // What has nearly the colour of a band it crosses is not odd there, and falls in pieces.
  const groups = joinAcrossBands(pieces, (s) => segments[s].lab);
  const foreign = likeColoured(groups).flatMap(foreignAmong);
  if (foreign.length === 0) return pixels;
  const out = new Uint8Array(pieces.length + 1);
  for (const group of foreign) for (const label of group.labels) out[label] = 1;
  return pixels.filter((p) => !(p.odd && out[labels[cellOf(p)]]));
}

/** Pieces of about one colour together, the largest first in each: shadow and what passes beneath part a hand into several. */
function likeColoured(groups: readonly OddPiece[]): OddPiece[][] {
  const sets: OddPiece[][] = [];
  for (const group of [...groups].sort((p, q) => q.cells - p.cells)) {
    const own = sets.find(([largest]) => cie76(largest.lab, group.lab) < LIKE_COLOUR);
    if (own) own.push(group);
    else sets.push([group]);
  }
  return sets;
}

/** Of pieces of one colour, the largest first, those that are not small beside it. */
const considerable = (pieces: readonly OddPiece[]): OddPiece[] =>
  pieces.filter(({ cells }) => cells >= CONSIDERABLE * pieces[0].cells);

/**
 * Of pieces of one colour, the largest first, those that lie on the cloth: few over many bands, and what else there is of that colour unless
 * it is as many as a print has; or few over fewer bands if all of them come in from beyond the picture.
 */
function foreignAmong(pieces: readonly OddPiece[]): readonly OddPiece[] {
  const main = considerable(pieces);
  const large = main.filter(({ first, last }) => last - first + 1 >= BANDS_ACROSS);
  if (large.length >= FEWEST_FIGURES) return [];
  if (large.length > 0) {
    if (areFigures(large)) return [];
    return main.length < FEWEST_FIGURES ? main : large;
  }
  const first = Math.min(...main.map((one) => one.first));
  const last = Math.max(...main.map((one) => one.last));
  const comeIn = last > first && main.every(({ atRim }) => atRim);
  return comeIn && main.length < FEWEST_FIGURES ? main : [];
}

/** Whether all of them lie wholly in view, round, and one is like another. */
function areFigures(large: readonly OddPiece[]): boolean {
  if (large.length < 2 || large.some((one) => one.atRim || one.long > LONG)) return false;
  const [first] = large;
  return large.every(
    (one) =>
      Math.abs(one.cells - first.cells) < LIKE_SIZE * Math.max(one.cells, first.cells) &&
      cie76(one.lab, first.lab) < LIKE_COLOUR,
  );
}

/** 1 where an odd pixel was sampled, or none between two odd ones of a row; and the first and last row seen in each column. */
function oddCells(
  pixels: readonly BandPixel[],
  cellOf: (p: BandPixel) => number,
  columns: number,
  rows: number,
): { odd: Uint8Array; ends: Int32Array } {
  const PLAIN = 1;
  const ODD = 2;
  const cells = new Uint8Array(columns * rows);
  for (const p of pixels) {
    const cell = cellOf(p);
    if (p.odd) cells[cell] = ODD;
    else if (cells[cell] !== ODD) cells[cell] = PLAIN;
  }
  const odd = new Uint8Array(cells.length);
  const ends = new Int32Array(2 * columns).fill(-1);
  for (let y = 0; y < rows; y++) {
    let last = -1;
    for (let x = 0; x < columns; x++) {
      const i = y * columns + x;
      if (cells[i] === 0) continue;
      if (ends[2 * x] < 0) ends[2 * x] = y;
      ends[2 * x + 1] = y;
      if (cells[i] === ODD) {
        odd[i] = 1;
        if (last >= 0 && x - last - 1 <= LONGEST_GAP) odd.fill(1, y * columns + last + 1, i);
      }
      last = cells[i] === ODD ? x : -1;
    }
  }
  return { odd, ends };
}

/** Index of the segment at each column of cells; -1 where there is none. */
function bandOfColumn(segments: readonly Segment[], columns: number, stepX: number): Int32Array {
  const out = new Int32Array(columns).fill(-1);
  segments.forEach(({ from, to }, s) => {
    out.fill(s, Math.max(0, Math.floor(from / stepX)), Math.min(columns, Math.ceil(to / stepX)));
  });
  return out;
}

/** Odd cells that touch, corners counted: a label from 1 on for each cell, and what is known of each component. */
function components(
  odd: Uint8Array,
  columns: number,
  bandOf: Int32Array,
  ends: Int32Array,
): { labels: Int32Array; pieces: OddPiece[] } {
  const labels = new Int32Array(odd.length);
  const pieces: OddPiece[] = [];
  const stack: number[] = [];
  for (let start = 0; start < odd.length; start++) {
    if (!odd[start] || labels[start]) continue;
    const label = pieces.length + 1;
    const own: number[] = [];
    labels[start] = label;
    stack.push(start);
    for (let i = stack.pop(); i !== undefined; i = stack.pop()) {
      own.push(i);
      const x = i % columns;
      for (let dy = -columns; dy <= columns; dy += columns) {
        for (let dx = x > 0 ? -1 : 0; dx <= (x + 1 < columns ? 1 : 0); dx++) {
          const k = i + dy + dx;
          if (k < 0 || k >= odd.length || !odd[k] || labels[k]) continue;
          labels[k] = label;
          stack.push(k);
        }
      }
    }
    pieces.push(pieceOf(own, label, columns, bandOf, ends));
  }
  return { labels, pieces };
}

function pieceOf(
  cells: readonly number[],
  label: number,
  columns: number,
  bandOf: Int32Array,
  ends: Int32Array,
): OddPiece {
  let first = Number.POSITIVE_INFINITY;
  let last = Number.NEGATIVE_INFINITY;
  let atRim = false;
  let [sx, sy, sxx, sxy, syy] = [0, 0, 0, 0, 0];
  for (const i of cells) {
    const x = i % columns;
    const y = (i - x) / columns;
    if (bandOf[x] >= 0) {
      first = Math.min(first, bandOf[x]);
      last = Math.max(last, bandOf[x]);
    }
    if (ends[2 * x] >= 0 && (y <= ends[2 * x] + 1 || y >= ends[2 * x + 1] - 1)) atRim = true;
    sx += x;
    sy += y;
    sxx += x * x;
    sxy += x * y;
    syy += y * y;
  }
  const n = cells.length;
  const xx = sxx / n - (sx / n) ** 2 + 1 / 12;
  const yy = syy / n - (sy / n) ** 2 + 1 / 12;
  const xy = sxy / n - (sx * sy) / n ** 2;
  const root = Math.hypot((xx - yy) / 2, xy);
  const long = Math.sqrt(((xx + yy) / 2 + root) / Math.max(1 / 12, (xx + yy) / 2 - root));
  const rowsIn = (band: number): [number, number] => {
    let low = Number.POSITIVE_INFINITY;
    let high = Number.NEGATIVE_INFINITY;
    for (const i of cells) {
      const x = i % columns;
      if (bandOf[x] !== band) continue;
      const y = (i - x) / columns;
      low = Math.min(low, y);
      high = Math.max(high, y);
    }
    return [low, high];
  };
  return {
    labels: [label],
    cells: n,
    first,
    last,
    rowsFirst: rowsIn(first),
    rowsLast: rowsIn(last),
    atRim,
    long,
    lab: [0, 0, 0],
  };
}

/** Mean colour of each piece's own pixels. */
function addColours(
  pixels: readonly BandPixel[],
  cellOf: (p: BandPixel) => number,
  labels: Int32Array,
  pieces: OddPiece[],
): void {
  const sums = pieces.map((): [number, number, number, number] => [0, 0, 0, 0]);
  for (const p of pixels) {
    const label = p.odd ? labels[cellOf(p)] : 0;
    if (label === 0) continue;
    const sum = sums[label - 1];
    for (let c = 0; c < 3; c++) sum[c] += p.lab[c];
    sum[3]++;
  }
  sums.forEach(([l, a, b, n], k) => {
    const lab: Lab = [l / Math.max(1, n), a / Math.max(1, n), b / Math.max(1, n)];
    pieces[k] = { ...pieces[k], lab };
  });
}
