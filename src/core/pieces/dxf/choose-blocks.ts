import type { DxfPart } from './dxf-parts.js';

/** One piece of a file, in one size, before it is put together. */
export interface DxfPiece {
  readonly name: string;
  readonly size: string | null;
  readonly quantity: string | null;
  readonly parts: readonly DxfPart[];
  /** For each time it is laid out: whether as its mirror image. */
  readonly laid: readonly { readonly mirrored: boolean }[];
}

/** The value of a line of the piece's or style's own text, such as "Size: 38". */
export function systemText(words: readonly string[], key: string): string | null {
  for (const line of words) {
    const value = new RegExp(`^\\s*${key}\\s*:\\s*(.+?)\\s*$`, 'i').exec(line)?.[1];
    if (value !== undefined) return value;
  }
  return null;
}

export interface ChosenSize {
  readonly pieces: readonly DxfPiece[];
  readonly warning: string | null;
}

/**
 * Of a file with several sizes one is kept: the one asked for, else the one that the style was drawn in ("Sample Size"), else the first.
 * Null where the size asked for is not in the file.
 */
export function piecesOfSize(
  all: readonly DxfPiece[],
  asked: string | null,
  sampleSize: string | null,
): ChosenSize | null {
  const sizes = sizesOf(all);
  const find = (size: string | null): string | undefined =>
    sizes.find((one) => one.toLowerCase() === size?.trim().toLowerCase());
  if (asked !== null && find(asked) === undefined) return null;
  if (sizes.length < 2) return { pieces: all, warning: null };
  const size = find(asked) ?? find(sampleSize) ?? sizes[0];
  return {
    pieces: all.filter((piece) => piece.size === null || piece.size === size),
    warning: asked === null ? `the file holds the sizes ${sizes.join(', ')}: ${size} is taken` : null,
  };
}

/** The sizes of a file, in its order. */
export const sizesOf = (all: readonly DxfPiece[]): string[] => [
  ...new Set(all.map((piece) => piece.size).filter((size) => size !== null)),
];
