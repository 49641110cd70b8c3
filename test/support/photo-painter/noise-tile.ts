import type { SeededRandom } from './seeded-random.js';

/** Smooth noise, mean 0, unit-sized lattice cells, repeating every TILE cells. */
export type Noise = (x: number, y: number) => number;

const TILE = 256;

/** Bilinear value noise over a lattice of independent values in [-1, 1]. */
export function noiseTile(random: SeededRandom): Noise {
  const lattice = Float32Array.from({ length: TILE * TILE }, () => random.between(-1, 1));
  return (x, y) => {
    const left = Math.floor(x);
    const top = Math.floor(y);
    const fx = x - left;
    const fy = y - top;
    const x0 = left & (TILE - 1);
    const x1 = (left + 1) & (TILE - 1);
    const row0 = (top & (TILE - 1)) * TILE;
    const row1 = ((top + 1) & (TILE - 1)) * TILE;
    const upper = lattice[row0 + x0] + fx * (lattice[row0 + x1] - lattice[row0 + x0]);
    const lower = lattice[row1 + x0] + fx * (lattice[row1 + x1] - lattice[row1 + x0]);
    return upper + fy * (lower - upper);
  };
}
