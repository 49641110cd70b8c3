import { check, listOf, record, text } from '../../base/expectation.js';
import { UsageError } from '../../base/outcome.js';
import type { Point } from '../../math/matrix3.js';
import type { BandModel } from '../../model/band-model.js';
import { checkBandModel } from '../../model/check-band-model.js';
import { wholeCutting, wholeStitching } from '../../pieces/geometry/whole-piece.js';
import type { Piece } from '../../pieces/piece/pieces-file.js';
import { checkPieceList, checkPlan } from '../../place/plan/check-plan.js';
import type { Plan } from '../../place/plan/plan.js';
import { checkLay } from '../answer/check-lay-record.js';
import type { LaidLength, LayAnswer } from '../answer/lay-answer.js';
import { imageOf, inverseOf } from '../phase/motion.js';
import { type ClothBox, stripesOnLength } from './cloth-on-length.js';

/** A length of cloth with all that is drawn on it; length frame, mm: x from the left selvage, y up from the cut end. */
export interface LengthView {
  readonly id: string;
  readonly widthMm: number;
  readonly lengthMm: number;
  readonly usedMm: number;
  /** Beyond that, less the margin. */
  readonly leftMm: number;
  /** Stripes, cross stripes, motifs, in the order in which they are painted. Empty on plain cloth. */
  readonly cloth: readonly ClothBox[];
  readonly flaws: readonly (readonly [number, number, number, number])[];
  readonly copies: readonly CopyView[];
}

export interface CopyView {
  readonly copy: string;
  readonly piece: string;
  /** It is but a part of the piece, joined to another. */
  readonly isPart: boolean;
  /** Whole, fold laid open. */
  readonly cutting: readonly Point[];
  readonly stitching: readonly Point[];
  /** From its foot to its head. */
  readonly grain: readonly [Point, Point];
}

/** The lay as it is drawn. plan, pieces, model: those that it was made from. */
export function viewOfLay(
  lay: LayAnswer,
  plan: Plan,
  pieces: readonly Piece[],
  model: BandModel | null,
): LengthView[] {
  checkLay(lay);
  checkPlan(plan);
  checkPieceList(pieces);
  if (model !== null) checkBandModel(model);
  check(plan.lengths, 'plan.lengths', listOf(record({ id: text }), { least: lay.lengths.length }, 'lengths'));
  return lay.lengths.map((laid, k) => ({
    id: laid.id,
    widthMm: laid.width_mm,
    lengthMm: laid.length_mm,
    usedMm: laid.used_mm,
    leftMm: laid.left_mm,
    cloth:
      model === null
        ? []
        : stripesOnLength(model, inverseOf(laid.cloth_from_length), laid.width_mm, laid.length_mm),
    flaws: plan.lengths[k].flaws,
    copies: laid.copies.map((one) => copyView(one, pieces)),
  }));
}

function copyView(
  { copy, piece: id, transform, part }: LaidLength['copies'][number],
  pieces: readonly Piece[],
): CopyView {
  const piece = pieces.find((one) => one.id === id);
  if (piece === undefined)
    throw new UsageError(
      `expected those of the lay, which has a piece "${id}", received none of that id`,
      'pieces',
    );
  const laid = (line: readonly Point[]): Point[] => line.map((at) => imageOf(transform, at));
  return {
    copy,
    piece: id,
    cutting: laid(part ?? wholeCutting(piece)),
    isPart: part !== null,
    stitching: laid(wholeStitching(piece)),
    grain: [imageOf(transform, piece.grain[0]), imageOf(transform, piece.grain[1])],
  };
}
