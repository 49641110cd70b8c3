import { UsageError } from '../base/outcome.js';
import { checkLay } from '../lay/answer/check-lay-record.js';
import type { LayAnswer } from '../lay/answer/lay-answer.js';
import { writeLaidDxf } from '../pieces/dxf/write-laid-dxf.js';
import type { Piece } from '../pieces/piece/pieces-file.js';
import { checkPieceList } from '../place/plan/check-plan.js';

/** A lay as a DXF file in mm, its lengths side by side, by the layers of ASTM D6673. pieces: those that it was made from. */
export function layDxf(lay: LayAnswer, pieces: readonly Piece[]): string {
  checkLay(lay);
  checkPieceList(pieces);
  for (const { piece } of lay.lengths.flatMap(({ copies }) => copies))
    if (!pieces.some(({ id }) => id === piece))
      throw new UsageError(
        `expected those of the lay, which has a piece "${piece}", received none of that id`,
        'pieces',
      );
  return writeLaidDxf(
    pieces,
    lay.lengths.map(({ id, width_mm, length_mm, copies }) => ({
      id,
      widthMm: width_mm,
      lengthMm: length_mm,
      inserts: copies,
    })),
  );
}
