import {
  checkAll,
  finiteNumber,
  listOf,
  numberWithin,
  orNull,
  record,
  text,
  yesOrNo,
} from '../base/expectation.js';
import { formatTapeLength, LENGTH_UNIT, type LengthUnit } from '../base/length.js';
import type { PieceView } from '../pieces/view/piece-view.js';

const mm = numberWithin({ least: 0 }, 'mm');
const PIECE = record({
  id: text,
  copies: listOf(record({ mirrored: yesOrNo })),
  stripes: record({ to: text, angle_deg: finiteNumber }),
  fold: orNull(text),
});
const VIEWS = listOf(
  record(
    { piece: PIECE, widthMm: mm, heightMm: mm, seams: listOf(record({ id: text, lengthMm: mm })) },
    'what viewOfPiece gives',
  ),
);

/** What was understood of pieces, as lines for a terminal: size, copies, stripes and seams of each. Ends with a line end. */
export function piecesSummary(views: readonly PieceView[], unit: LengthUnit): string {
  checkAll({ views: [views, VIEWS], unit: [unit, LENGTH_UNIT] });
  const copies = views.reduce((sum, { piece }) => sum + piece.copies.length, 0);
  const lines = views.flatMap((view) => [
    `${view.piece.id}: ${size(view, unit)}, ${copiesWords(view)}, ${stripesWords(view)}`,
    ...(view.seams.length === 0
      ? ['  none of its seams has a name']
      : [`  ${view.seams.map((seam) => `${seam.id} ${formatTapeLength(seam.lengthMm, unit)}`).join(', ')}`]),
  ]);
  return `${views.length} ${views.length === 1 ? 'piece' : 'pieces'}, ${copies} to cut\n${lines.join('\n')}\n`;
}

const size = ({ piece, widthMm, heightMm }: PieceView, unit: LengthUnit): string =>
  `${formatTapeLength(widthMm, unit)} x ${formatTapeLength(heightMm, unit)}${piece.fold === null ? '' : ' unfolded'}`;

function copiesWords({ piece }: PieceView): string {
  const mirrored = piece.copies.filter((copy) => copy.mirrored).length;
  return `cut ${piece.copies.length}${mirrored === 0 ? '' : ` (${mirrored} mirrored)`}`;
}

function stripesWords({ piece }: PieceView): string {
  const { to, angle_deg } = piece.stripes;
  const along = to === 'grain' ? 'the grain' : `seam ${to}`;
  return angle_deg === 0 ? `stripes along ${along}` : `stripes ${+angle_deg.toFixed(2)}° from ${along}`;
}
