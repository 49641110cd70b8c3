import { type GradientField, LEAST_ENERGY } from './gradient-field.js';

/** Local stripe direction in one block of the picture. */
export interface BlockDirection {
  /** Middle of the block, px of the picture it was computed on. */
  readonly x: number;
  readonly y: number;
  /** Direction along the stripes, radians counter-clockwise as seen, in [0, pi). */
  readonly angle: number;
  /** Edge energy that runs this way, less what a block without direction would show. */
  readonly weight: number;
}

/** Energy of one px that counts at most, on average over a block: one bright motif must not outweigh the cloth. */
const MOST_ENERGY = 4000;

/**
 * Direction block by block of those edges that run within `gate` radians of the direction expected there, so that neither the
 * crossing stripes of a check nor motifs bend it.
 *
 * @param expected Direction along the stripes at a place, radians counter-clockwise as seen.
 */
export function blockDirections(
  field: GradientField,
  expected: (x: number, y: number) => number,
  gate: number,
  blockPx = 24,
): BlockDirection[] {
  const { width, height } = field;
  const out: BlockDirection[] = [];
  const sums = new Float64Array(3);
  const limit = Math.cos(2 * gate);
  // Share of the directions that lie within the gate.
  const chance = (2 * gate) / Math.PI;
  for (let y0 = 1; y0 + blockPx < height; y0 += blockPx) {
    for (let x0 = 1; x0 + blockPx < width; x0 += blockPx) {
      const middleX = x0 + blockPx / 2;
      const middleY = y0 + blockPx / 2;
      // The gradient is square to the stripe; y turns over in the picture. Doubled, as a tensor turns.
      const gradient = -(expected(middleX, middleY) + Math.PI / 2);
      const cos = Math.cos(2 * gradient);
      const sin = Math.sin(2 * gradient);
      addBlock(field, x0, y0, blockPx, cos, sin, limit, sums);
      const [along, square, all] = sums;
      const share = along / Math.max(1e-9, all);
      if (along < blockPx * blockPx || share <= chance) continue;
      const angle = -(gradient + 0.5 * Math.atan2(square, along) + Math.PI / 2);
      const surplus = (share - chance) / (1 - chance);
      out.push({
        x: middleX,
        y: middleY,
        angle: angle - Math.PI * Math.floor(angle / Math.PI),
        weight: Math.min(along / (blockPx * blockPx), MOST_ENERGY) * surplus * surplus,
      });
    }
  }
  return out;
}

/**
 * Sums over one block: of edges within the gate the part along the direction expected (`cos`, `sin`, doubled) and the part square to
 * it, and all edge energy. `limit`: cosine of twice the gate.
 */
function addBlock(
  { width, xx, xy, yy }: GradientField,
  x0: number,
  y0: number,
  blockPx: number,
  cos: number,
  sin: number,
  limit: number,
  sums: Float64Array,
): void {
  let along = 0;
  let square = 0;
  let all = 0;
  for (let y = y0; y < y0 + blockPx; y++) {
    for (let p = y * width + x0, end = p + blockPx; p < end; p++) {
      const energy = xx[p] + yy[p];
      if (energy < LEAST_ENERGY) continue;
      all += energy;
      const c = xx[p] - yy[p];
      const s = 2 * xy[p];
      const toward = c * cos + s * sin;
      const split2 = c * c + s * s;
      // Of pixels with one direction only, those within the gate.
      if (toward <= 0 || toward * toward < limit * limit * split2 || split2 < 0.25 * energy * energy)
        continue;
      along += toward;
      square += s * cos - c * sin;
    }
  }
  sums[0] = along;
  sums[1] = square;
  sums[2] = all;
}
