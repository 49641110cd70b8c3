import { fillPolygon, grownPolygon } from '../raster/fill-polygon.js';
import { halve } from '../raster/halve.js';
import type { Raster } from '../raster/raster.js';
import { type GradientField, gradientField } from './gradient-field.js';

/** Shrunk copies of the picture with what hides the cloth marked on each. */
export interface PictureLevels {
  readonly full: Raster<Uint8Array>;
  readonly half: Raster<Uint8Array>;
  /** 1 = not cloth, size of `half`. */
  readonly hiddenHalf: Uint8Array;
  /** Small copy for directions. */
  readonly small: SmallCopy;
}

/** A small copy of the picture. What is made of it is made when it is first asked for, and kept: many ask again. */
export interface SmallCopy {
  readonly picture: Raster<Uint8Array>;
  /** 1 = not cloth, same size. */
  readonly hidden: Uint8Array;
  readonly shrink: number;
  readonly field: () => GradientField;
  /** The copy of half its size; null where that would show too few places. */
  readonly halved: () => SmallCopy | null;
}

/** Longest side of the copy on which directions are taken: blocks of 24 px then see a few hundred places. */
export const SMALL_SIDE = 1400;

/**
 * `half`: the picture at half its size. `outline`: polygon of the ruler or sheet in picture px, or null; grown by `marginPx` for its
 * shadow. `region`: polygon outside which nothing counts as cloth, or null.
 */
export function pictureLevels(
  picture: Raster<Uint8Array>,
  half: Raster<Uint8Array>,
  outline: readonly (readonly [number, number])[] | null,
  marginPx: number,
  region: readonly (readonly [number, number])[] | null = null,
): PictureLevels {
  let small = half;
  let smallShrink = 2;
  while (Math.max(small.width, small.height) > SMALL_SIDE) {
    small = halve(small);
    smallShrink *= 2;
  }
  const hide = ({ width, height }: Raster, shrink: number): Uint8Array => {
    const hidden = new Uint8Array(width * height);
    if (region) {
      hidden.fill(1);
      const inside = region.map(([x, y]) => [x / shrink, y / shrink] as const);
      fillPolygon(hidden, width, height, inside, 0);
    }
    if (outline) {
      const grown = grownPolygon(outline, marginPx).map(([x, y]): [number, number] => [
        x / shrink,
        y / shrink,
      ]);
      fillPolygon(hidden, width, height, grown, 1);
    }
    return hidden;
  };
  return {
    full: picture,
    half,
    hiddenHalf: hide(half, 2),
    small: smallCopy(small, hide(small, smallShrink), smallShrink),
  };
}

/** The same with more hidden: all that lies in one of the polygons or outside the region, picture px. */
export function hidingMore(
  levels: PictureLevels,
  polygons: readonly (readonly (readonly [number, number])[])[],
  marginPx: number,
  region: readonly (readonly [number, number])[] | null = null,
): PictureLevels {
  const more = (hidden: Uint8Array, { width, height }: Raster, shrink: number): Uint8Array => {
    const shrunk = (polygon: readonly (readonly [number, number])[]) =>
      polygon.map(([x, y]): [number, number] => [x / shrink, y / shrink]);
    const out = hidden.slice();
    if (region) {
      const inside = new Uint8Array(out.length);
      fillPolygon(inside, width, height, shrunk(region), 1);
      for (let i = 0; i < out.length; i++) if (!inside[i]) out[i] = 1;
    }
    for (const polygon of polygons) {
      fillPolygon(out, width, height, shrunk(grownPolygon(polygon, marginPx)), 1);
    }
    return out;
  };
  const { small } = levels;
  return {
    ...levels,
    hiddenHalf: more(levels.hiddenHalf, levels.half, 2),
    small: smallCopy(small.picture, more(small.hidden, small.picture, small.shrink), small.shrink),
  };
}

/** Shortest side of a copy for directions: fewer blocks tell no fan. */
const LEAST_SIDE = 140;

function smallCopy(picture: Raster<Uint8Array>, hidden: Uint8Array, shrink: number): SmallCopy {
  const halved = (): SmallCopy | null =>
    Math.min(picture.width, picture.height) < 2 * LEAST_SIDE
      ? null
      : smallCopy(halve(picture), halvedMarks(hidden, picture.width, picture.height), 2 * shrink);
  return { picture, hidden, shrink, field: kept(() => gradientField(picture, hidden)), halved: kept(halved) };
}

/** Makes it when it is first asked for. */
function kept<T>(make: () => T): () => T {
  let made: { readonly value: T } | null = null;
  return () => {
    made ??= { value: make() };
    return made.value;
  };
}

/** The copy for directions and its halves, as long as they have places enough. */
export function* smallerCopies({ small }: PictureLevels): Generator<SmallCopy> {
  for (let copy: SmallCopy | null = small; copy !== null; copy = copy.halved()) yield copy;
}

/** A px of the half-size copy is marked where any of its four is. */
function halvedMarks(marks: Uint8Array, width: number, height: number): Uint8Array {
  const columns = width >> 1;
  const out = new Uint8Array(columns * (height >> 1));
  for (let i = 0; i < out.length; i++) {
    const x = i % columns;
    const k = 2 * ((i - x) / columns) * width + 2 * x;
    out[i] = marks[k] | marks[k + 1] | marks[k + width] | marks[k + width + 1];
  }
  return out;
}
