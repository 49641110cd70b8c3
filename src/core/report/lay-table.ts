import { check } from '../base/expectation.js';
import { formatLength, LENGTH_UNIT, type LengthUnit } from '../base/length.js';
import type { LaidLength, LayAnswer } from '../lay/answer/lay-answer.js';
import { checkLay } from './check-lay.js';

/** What the terminal shows of a lay: whether it fits, what it takes of each length, and what to buy. */
export function layTable(lay: LayAnswer, unit: LengthUnit): string {
  checkLay(lay);
  check(unit, 'unit', LENGTH_UNIT);
  const count = lay.lengths.reduce((sum, { copies }) => sum + copies.length, 0) + lay.unplaced.length;
  const lines = [
    lay.fits
      ? `All ${count} pieces fit.`
      : `${lay.unplaced.length} of ${count} pieces do not fit: ${lay.unplaced.join(', ')}.`,
    '',
    ...lay.lengths.map((length) => lengthWords(length, unit)),
    '',
    buyWords(lay, unit),
    ...lay.warnings.flatMap(({ message }) => ['', message]),
  ];
  return `${lines.join('\n')}\n`;
}

function lengthWords({ id, copies, used_mm, left_mm, share_cut }: LaidLength, unit: LengthUnit): string {
  if (copies.length === 0) return `${id}: not needed.`;
  return `${id}: ${formatLength(used_mm, unit)} of it used, ${formatLength(left_mm, unit)} left; of the part used, ${Math.round(100 * share_cut)} % goes into pieces.`;
}

function buyWords({ buy }: LayAnswer, unit: LengthUnit): string {
  const width = formatLength(buy.width_mm, unit);
  if (buy.matched_mm === null) return `Cloth ${width} wide is too narrow for these pieces.`;
  const matched = `Of new cloth ${width} wide they take ${formatLength(buy.matched_mm, unit)}`;
  return buy.plain_mm === null || buy.plain_mm === buy.matched_mm
    ? `${matched}.`
    : `${matched}, stripes matched; on plain cloth it would be ${formatLength(buy.plain_mm, unit)}.`;
}
