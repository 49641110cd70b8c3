import type { Point } from '../../math/matrix3.js';

/**
 * The longest closed line along which a field is a half, inside on its right as seen with y down (clockwise on the screen). Marching squares
 * over the pixel centres (Lorensen and Cline 1987, doi 10.1145/37402.37422, in two dimensions); the field counts as 0 beyond its frame.
 * Corner-origin px of the field. Null where it is nowhere above.
 */
export function borderLine(field: Float32Array, width: number, height: number): Point[] | null {
  const at = (x: number, y: number): number =>
    x < 0 || y < 0 || x >= width || y >= height ? 0 : field[y * width + x];
  const used = new Set<number>();
  let longest: Point[] | null = null;
  const w = width + 1;
  // Crossings stand on the edges between centres: 2 * place for the one to the right, + 1 for the one below.
  const key = (x: number, y: number, down: number): number => 2 * ((y + 1) * (w + 1) + x + 1) + down;
  for (let y = -1; y < height; y++) {
    for (let x = 0; x < width; x++) {
      if (!(at(x, y) <= 0.5 && at(x, y + 1) > 0.5) || used.has(key(x, y, 1))) continue;
      const line = followed(at, x, y, key, used);
      if (longest === null || line.length > longest.length) longest = line;
    }
  }
  return longest;
}

/** Walks with what is above on the right hand, from the crossing between (x, y), below a half, and (x, y + 1), above. */
function followed(
  at: (x: number, y: number) => number,
  startX: number,
  startY: number,
  key: (x: number, y: number, down: number) => number,
  used: Set<number>,
): Point[] {
  const line: Point[] = [];
  // The pair that is crossed: a place below a half and its neighbour above, (dx, dy) from the first to the second.
  let x = startX;
  let y = startY;
  let dx = 0;
  let dy = 1;
  for (;;) {
    const a = at(x, y);
    const b = at(x + dx, y + dy);
    const t = (0.5 - a) / (b - a);
    line.push([x + 0.5 + t * dx, y + 0.5 + t * dy]);
    const down = dy !== 0 ? 1 : 0;
    used.add(key(Math.min(x, x + dx), Math.min(y, y + dy), down));
    // Ahead is the way with the inside on the right: the pair's direction turned left on the screen.
    const fx = dy;
    const fy = -dx;
    const low = at(x + fx, y + fy) > 0.5;
    const high = at(x + dx + fx, y + dy + fy) > 0.5;
    if (low && high) {
      // The new pair: the same outer place, inside ahead of it.
      dx = fx;
      dy = fy;
    } else if (!low && high) {
      x += fx;
      y += fy;
    } else if (!low && !high) {
      x += dx + fx;
      y += dy + fy;
      dx = -fx;
      dy = -fy;
    } else {
      // A saddle: outer places are joined, so that touching corners stay apart.
      x += dx + fx;
      y += dy + fy;
      dx = -fx;
      dy = -fy;
    }
    if (x === startX && y === startY && dx === 0 && dy === 1) return line;
    if (line.length > 4_000_000) return line;
  }
}
