import { describe, expect, it } from 'vitest';
import { labOf } from '../../../src/core/raster/lab-of.js';
import { type Raster, raster } from '../../../src/core/raster/raster.js';
import { colourEdges } from '../../../src/core/reference/colour-edges.js';
import { edgeLines, edgesBesideStripes } from '../../../src/core/reference/edge-lines.js';

const [width, height] = [640, 480];
const SLOPE = Math.tan((26 * Math.PI) / 180);
/** Stripes rise to the right by 26 degrees, the long sides of a pale card by two degrees less. Px. */
const CARD = { x: 260, y: 200, angle: (-24 * Math.PI) / 180, long: 100, short: 60 };

function cardOnStripes(): Raster<Uint8Array> {
  const data = new Uint8Array(3 * width * height);
  const [c, s] = [Math.cos(CARD.angle), Math.sin(CARD.angle)];
  for (let y = 0; y < height; y++)
    for (let x = 0; x < width; x++) {
      let sum = [0, 0, 0];
      for (const [dx, dy] of [
        [0.25, 0.25],
        [0.75, 0.25],
        [0.25, 0.75],
        [0.75, 0.75],
      ]) {
        const [px, py] = [x + dx, y + dy];
        const across = (((py + SLOPE * px) % 80) + 80) % 80;
        const along = (px - CARD.x) * c + (py - CARD.y) * s;
        const down = -(px - CARD.x) * s + (py - CARD.y) * c;
        const onCard = along > 0 && along < CARD.long && down > 0 && down < CARD.short;
        const colour = onCard ? [214, 208, 196] : across < 18 ? [202, 178, 120] : [42, 58, 99];
        sum = sum.map((v, i) => v + colour[i] / 4);
      }
      data.set(sum, 3 * (y * width + x));
    }
  return raster(width, height, 3, data);
}

describe('edgesBesideStripes', () => {
  const edges = colourEdges(labOf(cardOnStripes()));
  const lines = edgeLines(edges, 30);
  const beside = edgesBesideStripes(edges, lines);

  it('leaves no edge of the stripes and all sides of what lies on them', () => {
    const count = (direction: Uint8Array): number => direction.reduce((sum, v) => sum + (v > 0 ? 1 : 0), 0);
    // The stripes have some 7000 px of edges, the card 320, crossed by a stripe here and there.
    expect(count(edges.direction)).toBeGreaterThan(5000);
    expect(count(beside.direction)).toBeLessThan(600);
    const found = edgeLines(beside, 30);
    const [c, s] = [Math.cos(CARD.angle), Math.sin(CARD.angle)];
    for (const [along, down, dx, dy] of [
      [0, 0, c, s],
      [0, CARD.short, c, s],
      [0, 0, -s, c],
      [CARD.long, 0, -s, c],
    ]) {
      const at = [CARD.x + along * c - down * s, CARD.y + along * s + down * c];
      const length = dx === c ? CARD.long : CARD.short;
      const ends = [at, [at[0] + length * dx, at[1] + length * dy]];
      const off = found.map((line) =>
        Math.max(...ends.map(([x, y]) => Math.abs(line.nx * x + line.ny * y - line.rho))),
      );
      expect(Math.min(...off)).toBeLessThan(1.5);
    }
  });
});
