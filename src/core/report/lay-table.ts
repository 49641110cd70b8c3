import { check } from '../base/expectation.js';
import { formatLength, LENGTH_UNIT, type LengthUnit } from '../base/length.js';
import type { LaidLength, LayAnswer, Remedy, ShortCopy, WidthRow } from '../lay/answer/lay-answer.js';
import { checkLay } from './check-lay.js';

/** What the terminal shows of a lay: whether it fits, what is short and what would help, what it takes of each length, and what to buy. */
export function layTable(lay: LayAnswer, unit: LengthUnit): string {
  checkLay(lay);
  check(unit, 'unit', LENGTH_UNIT);
  const count = lay.lengths.reduce((sum, { copies }) => sum + copies.length, 0) + lay.unplaced.length;
  const lines = [
    lay.fits
      ? `All ${count} pieces fit${lay.answer === 1 ? '' : `, by answer ${lay.answer} of the placement`}.`
      : `${lay.unplaced.length} of ${count} pieces do not fit: ${lay.unplaced.join(', ')}.`,
    ...lay.short.map((short) => `- ${shortWords(short, unit)}`),
    ...remedyLines(lay.remedies, unit),
    '',
    ...lay.lengths.map((length) => lengthWords(length, !lay.fits, unit)),
    '',
    buyWords(lay, unit),
    ...widthLines(lay.widths, unit),
    ...lay.warnings.flatMap(({ message }) => ['', message]),
  ];
  return `${lines.join('\n')}\n`;
}

/** The message, its length in the unit asked for. */
function shortWords({ copy, length, more_mm, repeat, message }: ShortCopy, unit: LengthUnit): string {
  if (length === null || more_mm === null) return message;
  const where = repeat === null ? '' : ` of repeat ${repeat}`;
  return `${copy} needs ${formatLength(more_mm, unit)} more${where} on "${length}".`;
}

function remedyLines(remedies: readonly Remedy[], unit: LengthUnit): string[] {
  if (remedies.length === 0) return [];
  const words = ({ kind, more_mm, message }: Remedy): string =>
    kind === 'more-cloth' && more_mm !== null
      ? message.replace(formatLength(more_mm, 'mm'), formatLength(more_mm, unit))
      : message;
  return [
    '',
    'What would help:',
    ...remedies.map(
      (remedy, k) =>
        `${remedy.fits ? '+' : '-'} ${words(remedy)}${remedy.fits ? ` See remedy-${k + 1}.png.` : ''}`,
    ),
  ];
}

function lengthWords(
  { id, copies, used_mm, left_mm, share_cut }: LaidLength,
  isNeeded: boolean,
  unit: LengthUnit,
): string {
  if (copies.length === 0) return isNeeded ? `${id}: nothing fits on it.` : `${id}: not needed.`;
  return `${id}: ${formatLength(used_mm, unit)} used, ${formatLength(left_mm, unit)} left. Of what is used, ${Math.round(100 * share_cut)} % goes into pieces.`;
}

function buyWords({ buy }: LayAnswer, unit: LengthUnit): string {
  const width = formatLength(buy.width_mm, unit);
  if (buy.matched_mm === null) return `Cloth ${width} wide is too narrow for these pieces.`;
  const matched = `To buy new, ${width} wide: ${formatLength(buy.matched_mm, unit)}`;
  return buy.plain_mm === null || buy.plain_mm === buy.matched_mm
    ? `${matched}.`
    : `${matched} with stripes matched, ${formatLength(buy.plain_mm, unit)} of plain cloth.`;
}

function widthLines(rows: readonly WidthRow[], unit: LengthUnit): string[] {
  if (rows.length === 0) return [];
  const cell = (mm: number | null): string => (mm === null ? 'too narrow' : formatLength(mm, unit));
  const table = [
    ['width', 'repeat', 'matched', 'plain'],
    ...rows.map((row) => [
      cell(row.width_mm),
      row.repeat_mm === null ? 'none' : formatLength(row.repeat_mm, unit),
      cell(row.matched_mm),
      cell(row.plain_mm),
    ]),
  ];
  const wide = table[0].map((_, k) => Math.max(...table.map((row) => row[k].length)));
  return ['', ...table.map((row) => row.map((one, k) => one.padStart(wide[k])).join('   '))];
}
