import { describe, expect, it } from 'vitest';
import type { Piece } from '../../../src/core/pieces/piece/pieces-file.js';
import { drawPieces } from '../../../src/core/pipeline/draw-pieces.js';
import { fileOf, gore } from '../../support/pieces/small-pieces.js';

/** Page mm of the bar that stands for 100 mm, and of the width of the first piece's stitching line. */
function sizesIn(svg: string): { readonly bar: number; readonly piece: number } {
  const [bar] = [...svg.matchAll(/<rect x="([\d.]+)" y="[\d.]+" width="([\d.]+)"/g)].map(
    (rect) => Number(rect[2]) * 2,
  );
  const d =
    /<path d="M([\d. L]+)Z" fill="none" stroke="[^"]+" stroke-width="0.25" stroke-dasharray="1.5 0.8"/.exec(
      svg,
    )![1];
  const xs = d.split('L').map((point) => Number(point.split(' ')[0]));
  return { bar, piece: Math.max(...xs) - Math.min(...xs) };
}

const scaled = (piece: Piece, by: number): Piece => ({
  ...piece,
  stitching: piece.stitching.map(([x, y]) => [x * by, y * by]),
  grain: [piece.grain[0].map((n) => n * by) as never, piece.grain[1].map((n) => n * by) as never],
  points: Object.fromEntries(Object.entries(piece.points).map(([id, [x, y]]) => [id, [x * by, y * by]])),
});

describe('the picture of pieces', () => {
  it.each([1, 1 / 25.4, 10, 25.4])('draws bar and pieces at one scale, sizes times %f', (by) => {
    const { bar, piece } = sizesIn(
      drawPieces(fileOf(scaled(gore({ allowance_mm: null }), by)), 'gore', 'mm'),
    );
    expect(piece / bar).toBeCloseTo((120 * by) / 100, 2);
  });

  it('is never more than a page wide, whatever is on it', () => {
    for (const by of [0.02, 1, 40]) {
      const [, width] = /width="([\d.]+)mm"/.exec(
        drawPieces(
          fileOf(scaled(gore(), by), gore({ id: 'two', copies: [{ id: 'two', mirrored: false }] })),
          'x',
          'cm',
        ),
      )!;
      expect(Number(width)).toBeLessThanOrEqual(425);
    }
  });

  it('shows the other half of a piece on the fold within the page', () => {
    const svg = drawPieces(fileOf(gore({ fold: 'centre' })), 'half', 'mm');
    const dotted = /<path d="M([\d. L-]+)Z"[^>]*stroke-dasharray="0.6 0.9"/.exec(svg)![1];
    const xs = dotted.split('L').map((point) => Number(point.split(' ')[0]));
    expect(Math.min(...xs)).toBeGreaterThan(0);
    expect(svg).not.toMatch(/NaN|undefined|Infinity/);
  });
});
