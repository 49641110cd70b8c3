import { extentOf, type Outline, signedAreaMm2 } from '../../pieces/geometry/outline.js';
import type { Transform } from '../../place/answer/placement.js';
import type { ClothLength } from '../../place/plan/plan.js';
import { clothFromLength } from '../phase/length-frame.js';
import { imageOf } from '../phase/motion.js';
import type { LaidCopyOnLength, LaidLength } from './lay-answer.js';

/** Where one copy came to lie. */
export interface LaidCopy {
  readonly copy: string;
  readonly piece: string;
  /** Cutting line, piece frame. */
  readonly cutting: Outline;
  /** It is but a part of the piece. */
  readonly isPart: boolean;
  /** Index among the plan's lengths; null: no room was found. */
  readonly length: number | null;
  /** Piece frame to length frame; of no meaning without a length. */
  readonly transform: Transform;
  readonly halfTurned: boolean;
}

/** To a millionth of a micrometre, and -0 as 0: two pieces that touch shall not overlap by rounding. */
const rounded = (value: number): number => Math.round(value * 1e9) / 1e9 + 0;
const roundedMm = (mm: number): number => Math.round(mm * 1e6) / 1e6 + 0;
const turned = (part: number): number => Math.round(part * 1e12) / 1e12 + 0;

export const roundedTransform = ([a, b, c, d, e, f]: Transform): Transform => [
  turned(a),
  turned(b),
  turned(c),
  turned(d),
  rounded(e),
  rounded(f),
];

/** One length of the plan with what lies on it. */
export function laidLength(
  length: ClothLength,
  copies: readonly LaidCopy[],
  firstBandStartMm: number,
  marginMm: number,
): LaidLength {
  const lines = copies.map(({ cutting, transform }) =>
    cutting.map((at) => imageOf(roundedTransform(transform), at)),
  );
  const usedMm = Math.max(0, ...lines.map((line) => extentOf(line).top));
  const areaMm2 = lines.reduce((sum, line) => sum + Math.abs(signedAreaMm2(line)), 0);
  const takenMm = Math.min(length.lengthMm, usedMm + marginMm);
  return {
    id: length.id,
    width_mm: length.widthMm,
    length_mm: length.lengthMm,
    stripes: length.stripes,
    used_mm: roundedMm(usedMm),
    left_mm: roundedMm(lines.length === 0 ? length.lengthMm : length.lengthMm - takenMm),
    share_cut: lines.length === 0 ? 0 : turned(areaMm2 / (takenMm * length.widthMm)),
    cloth_from_length: roundedTransform(clothFromLength(length, firstBandStartMm)),
    copies: copies.map(listed),
  };
}

const listed = ({ copy, piece, transform, halfTurned, isPart, cutting }: LaidCopy): LaidCopyOnLength => ({
  copy,
  piece,
  transform: roundedTransform(transform),
  half_turned: halfTurned,
  part: isPart ? cutting.map(([x, y]) => [roundedMm(x), roundedMm(y)] as const) : null,
});

/** All lengths of the plan. */
export const laidLengths = (
  lengths: readonly ClothLength[],
  laid: readonly LaidCopy[],
  firstBandStartMm: number,
  marginMm: number,
): LaidLength[] =>
  lengths.map((length, k) =>
    laidLength(
      length,
      laid.filter((one) => one.length === k),
      firstBandStartMm,
      marginMm,
    ),
  );
