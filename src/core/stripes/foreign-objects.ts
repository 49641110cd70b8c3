import type { BandPixel } from './band-pixels.js';
import type { Segment } from './segment.js';

/** Odd pixels that hang together over so many bands are no figure printed on one or two of them ... */
const BANDS_ACROSS = 4;
/** ... unless there are as many of them as a print has: a hand, scissors or a second ruler come once or twice. */
const FEWEST_FIGURES = 4;
/** Cells that no pixel was sampled in, at the edge of a band, are taken for odd between two odd ones, up to so many. */
const LONGEST_GAP = 8;

/**
 * The pixels without those of things that lie on the cloth: odd pixels that hang together across several bands, in few places. What a
 * cloth shows comes again with its repeat.
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
  const odd = oddCells(pixels, cellOf, columns, rows);
  const bandOf = bandOfColumn(segments, columns, stepX);
  const { labels, extents } = components(odd, columns, bandOf);
  const large = extents.map((bands) => bands >= BANDS_ACROSS);
  const count = large.filter((one) => one).length;
  if (count === 0 || count >= FEWEST_FIGURES) return pixels;
  return pixels.filter((p) => !(p.odd && large[labels[cellOf(p)] - 1]));
}

/** 1 where an odd pixel was sampled, or none between two odd ones of a row. */
function oddCells(
  pixels: readonly BandPixel[],
  cellOf: (p: BandPixel) => number,
  columns: number,
  rows: number,
): Uint8Array {
  const PLAIN = 1;
  const ODD = 2;
  const cells = new Uint8Array(columns * rows);
  for (const p of pixels) {
    const cell = cellOf(p);
    if (p.odd) cells[cell] = ODD;
    else if (cells[cell] !== ODD) cells[cell] = PLAIN;
  }
  const odd = new Uint8Array(cells.length);
  for (let y = 0; y < rows; y++) {
    let last = -1;
    for (let x = 0; x < columns; x++) {
      const i = y * columns + x;
      if (cells[i] === 0) continue;
      if (cells[i] === ODD) {
        odd[i] = 1;
        if (last >= 0 && x - last - 1 <= LONGEST_GAP) odd.fill(1, y * columns + last + 1, i);
      }
      last = cells[i] === ODD ? x : -1;
    }
  }
  return odd;
}

/** Index of the segment at each column of cells; -1 where there is none. */
function bandOfColumn(segments: readonly Segment[], columns: number, stepX: number): Int32Array {
  const out = new Int32Array(columns).fill(-1);
  segments.forEach(({ from, to }, s) => {
    out.fill(s, Math.max(0, Math.floor(from / stepX)), Math.min(columns, Math.ceil(to / stepX)));
  });
  return out;
}

/** Odd cells that touch, corners counted: a label from 1 on for each cell, and over how many bands each component reaches. */
function components(
  odd: Uint8Array,
  columns: number,
  bandOf: Int32Array,
): { labels: Int32Array; extents: number[] } {
  const labels = new Int32Array(odd.length);
  const extents: number[] = [];
  const stack: number[] = [];
  for (let start = 0; start < odd.length; start++) {
    if (!odd[start] || labels[start]) continue;
    const label = extents.length + 1;
    let first = Number.POSITIVE_INFINITY;
    let last = Number.NEGATIVE_INFINITY;
    labels[start] = label;
    stack.push(start);
    for (let i = stack.pop(); i !== undefined; i = stack.pop()) {
      const x = i % columns;
      const band = bandOf[x];
      if (band >= 0) {
        first = Math.min(first, band);
        last = Math.max(last, band);
      }
      for (let dy = -columns; dy <= columns; dy += columns) {
        for (let dx = x > 0 ? -1 : 0; dx <= (x + 1 < columns ? 1 : 0); dx++) {
          const k = i + dy + dx;
          if (k < 0 || k >= odd.length || !odd[k] || labels[k]) continue;
          labels[k] = label;
          stack.push(k);
        }
      }
    }
    extents.push(last - first + 1);
  }
  return { labels, extents };
}
