import { check } from '../base/expectation.js';
import { LENGTH_UNIT, type LengthUnit } from '../base/length.js';
import type { LayAnswer } from '../lay/answer/lay-answer.js';
import { viewOfLay } from '../lay/view/lay-view.js';
import type { BandModel } from '../model/band-model.js';
import type { Piece } from '../pieces/piece/pieces-file.js';
import type { Plan } from '../place/plan/plan.js';
import { type LayDrawing, layDrawing } from '../render/lay/lay-drawing.js';

/** A lay as a drawing in mm with a layer for each kind of line. plan, pieces, model: those that it was made from. */
export function drawLay(
  lay: LayAnswer,
  plan: Plan,
  pieces: readonly Piece[],
  model: BandModel | null,
  unit: LengthUnit,
): LayDrawing {
  check(unit, 'unit', LENGTH_UNIT);
  return layDrawing(viewOfLay(lay, plan, pieces, model), `Lay of ${lay.plan.file}`, unit);
}
