import type { Point } from '../../math/matrix3.js';
import type { BandModel } from '../../model/band-model.js';
import { type ClothPattern, clothPattern } from '../../model/cloth-pattern.js';
import type { Transform } from '../../place/answer/placement.js';
import { crossStripes } from '../../seam/cross-model.js';
import { motifLattice } from '../../seam/motif-mirrors.js';
import { imageOf, inverseOf } from '../phase/motion.js';

/** An upright box of one colour; length frame, mm. */
export interface ClothBox {
  readonly kind: 'band' | 'cross' | 'motif';
  readonly x: number;
  readonly y: number;
  readonly width: number;
  readonly height: number;
  readonly srgb: string;
}

/** More bands or motifs than this in one picture show nothing, and fill the memory. */
const MOST_SHOWN = 20_000;

/** The model's cloth as it lies on a length. Bands reach from edge to edge; those of a check's second direction are of kind `cross`. */
export function stripesOnLength(
  model: BandModel,
  lengthFromCloth: Transform,
  widthMm: number,
  lengthMm: number,
): ClothBox[] {
  const clothFromLength = inverseOf(lengthFromCloth);
  const corners = [imageOf(clothFromLength, [0, 0]), imageOf(clothFromLength, [widthMm, lengthMm])];
  const low: Point = [Math.min(corners[0][0], corners[1][0]), Math.min(corners[0][1], corners[1][1])];
  const high: Point = [Math.max(corners[0][0], corners[1][0]), Math.max(corners[0][1], corners[1][1])];
  const boxes: ClothBox[] = [];
  const add = (kind: ClothBox['kind'], from: Point, to: Point, srgb: string): void => {
    const inside = (at: Point): Point => [
      Math.min(high[0], Math.max(low[0], at[0])),
      Math.min(high[1], Math.max(low[1], at[1])),
    ];
    const [p, q] = [imageOf(lengthFromCloth, inside(from)), imageOf(lengthFromCloth, inside(to))];
    const [width, height] = [Math.abs(q[0] - p[0]), Math.abs(q[1] - p[1])];
    if (width > 0 && height > 0)
      boxes.push({ kind, x: Math.min(p[0], q[0]), y: Math.min(p[1], q[1]), width, height, srgb });
  };
  const pattern = clothPattern(model);
  if (pattern.ok)
    eachBand(pattern.value, low[0], high[0], (from, to, srgb) => {
      add('band', [from, low[1]], [to, high[1]], srgb);
    });
  const cross = crossStripes(model);
  if (cross !== null)
    eachBand(cross.pattern, low[1], high[1], (from, to, srgb) => {
      add('cross', [low[0], from], [high[0], to], srgb);
    });
  addMotifs(model, low, high, add);
  return boxes;
}

function eachBand(
  { bands, repeatMm, originUMm }: ClothPattern,
  fromMm: number,
  toMm: number,
  visit: (fromMm: number, toMm: number, srgb: string) => void,
): void {
  if (((toMm - fromMm) / repeatMm) * bands.length > MOST_SHOWN) return;
  for (let k = Math.floor((fromMm - originUMm) / repeatMm); originUMm + k * repeatMm < toMm; k++) {
    for (const { startMm, widthMm, srgb } of bands) {
      const at = originUMm + k * repeatMm + startMm;
      if (at < toMm && at + widthMm > fromMm) visit(at, at + widthMm, srgb);
    }
  }
}

function addMotifs(
  model: BandModel,
  low: Point,
  high: Point,
  add: (kind: 'motif', from: Point, to: Point, srgb: string) => void,
): void {
  const lattice = motifLattice(model);
  if (lattice === null || lattice.dots.length === 0) return;
  const { acrossMm, alongMm, dropMm, dots } = lattice;
  const count = (((high[0] - low[0]) / acrossMm) * (high[1] - low[1]) * dots.length) / alongMm;
  if (count > MOST_SHOWN) return;
  const srgbOf = new Map(model.colours.map(({ id, srgb }) => [id, srgb]));
  for (const { u, v, extent, colour } of dots) {
    for (let k = Math.floor((low[0] - u) / acrossMm) - 1; u + k * acrossMm < high[0] + acrossMm; k++) {
      const firstV = v + k * dropMm;
      for (
        let j = Math.floor((low[1] - firstV) / alongMm) - 1;
        firstV + j * alongMm < high[1] + alongMm;
        j++
      ) {
        const [atU, atV] = [u + k * acrossMm, firstV + j * alongMm];
        const [halfU, halfV] = [extent[0] / 2, extent[1] / 2];
        add('motif', [atU - halfU, atV - halfV], [atU + halfU, atV + halfV], srgbOf.get(colour) ?? '#888888');
      }
    }
  }
}
