import { textWidth } from '../stroke-text.js';

/** An upright box on the page, mm, y down. */
export interface Box {
  readonly left: number;
  readonly right: number;
  readonly top: number;
  readonly bottom: number;
}

/** Where a line of writing may stand: its left end, middle or right end at x, its baseline at y. */
export interface TextPlace {
  readonly x: number;
  readonly y: number;
  readonly anchor: 'start' | 'middle' | 'end';
}

const overlap = (a: Box, b: Box): boolean =>
  a.left < b.right && b.left < a.right && a.top < b.bottom && b.top < a.bottom;

/** Side of a cell, mm: about a short word. */
const CELL_MM = 5;

function cellsOf({ left, right, top, bottom }: Box): string[] {
  const cells: string[] = [];
  for (let x = Math.floor(left / CELL_MM); x <= Math.floor(right / CELL_MM); x++) {
    for (let y = Math.floor(top / CELL_MM); y <= Math.floor(bottom / CELL_MM); y++) cells.push(`${x},${y}`);
  }
  return cells;
}

/** Keeps account of what is taken on a page, so that no word is written over another. */
export class FreePlaces {
  /** By cells of the page, since outlines are kept clear by thousands of small boxes. */
  private readonly taken = new Map<string, Box[]>();

  constructor(private readonly page: Box) {}

  take(box: Box): void {
    for (const cell of cellsOf(box)) {
      const there = this.taken.get(cell);
      if (there === undefined) this.taken.set(cell, [box]);
      else there.push(box);
    }
  }

  private isFree(box: Box): boolean {
    return !cellsOf(box).some((cell) => this.taken.get(cell)?.some((other) => overlap(other, box)));
  }

  /** The first of some places at which the words touch nothing, which is then taken; null where none is free. */
  firstFree(words: string, sizeMm: number, places: readonly TextPlace[]): TextPlace | null {
    const width = textWidth(words, sizeMm);
    for (const place of places) {
      const left = place.x - (place.anchor === 'middle' ? width / 2 : place.anchor === 'end' ? width : 0);
      const margin = 0.35 * sizeMm;
      const box = {
        left: left - margin,
        right: left + width + margin,
        top: place.y - sizeMm - margin,
        bottom: place.y + margin,
      };
      const { page } = this;
      const isInside =
        box.left >= page.left && box.right <= page.right && box.top >= page.top && box.bottom <= page.bottom;
      if (!isInside || !this.isFree(box)) continue;
      this.take(box);
      return place;
    }
    return null;
  }
}
