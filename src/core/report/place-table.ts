import { anyText, check, listOf } from '../base/expectation.js';
import { formatLength, LENGTH_UNIT, type LengthUnit } from '../base/length.js';
import type { JoinOutcome, Placement } from '../place/answer/placement.js';
import { checkPlacement } from './check-placement.js';

/**
 * What the terminal shows of a placement: the best answer wish by wish, what its joins come to, and how the others compare. told: what each wish of the
 * best answer asked and got, in words, in the order of the wishes.
 */
export function placeTable(placement: Placement, told: readonly string[], unit: LengthUnit): string {
  checkPlacement(placement);
  check(told, 'told', listOf(anyText, { least: placement.answers[0].wishes.length }, 'words'));
  check(unit, 'unit', LENGTH_UNIT);
  const [best, ...others] = placement.answers;
  const missed = (answer: typeof best): number => answer.wishes.filter(({ met }) => !met).length;
  const lines = [
    missed(best) === 0
      ? 'Every wish is met.'
      : `The best answer misses ${missed(best)} of ${told.length} ${told.length === 1 ? 'wish' : 'wishes'}.`,
    '',
    ...best.wishes.map(({ id, met }, k) => `${met ? '+' : '-'} ${id}: ${told[k]}`),
  ];
  const joins = best.joins.flatMap((join) => joinWords(join, unit));
  if (joins.length > 0) lines.push('', 'Along the joins:', ...joins);
  const laid = best.copies.filter(({ turned, face }) => turned || face === 'wrong');
  if (laid.length > 0)
    lines.push(
      '',
      ...laid.map(
        ({ copy, turned, face }) =>
          `${copy} lies ${[turned ? 'head down' : '', face === 'wrong' ? 'wrong side up' : ''].filter((one) => one !== '').join(', ')}.`,
      ),
    );
  others.forEach((other) => {
    lines.push(
      `Answer ${other.rank}: ${missed(other) === 0 ? 'every wish met' : `${missed(other)} missed`}${other.wishes
        .flatMap(({ id, met }) => (met ? [] : [id]))
        .map((id, k) => (k === 0 ? ` (${id}` : `, ${id}`))
        .join('')}${missed(other) === 0 ? '' : ')'}${costWords(other.cost, best.cost, unit)}.`,
    );
  });
  for (const { message } of placement.warnings) lines.push('', message);
  lines.push(
    '',
    'Match the stripes on the stitching line, not at the cut edge. Look at the pictures before you cut.',
  );
  return `${lines.join('\n')}\n`;
}

/** How far all wishes are off together; nothing where it reads the same as of the best answer. */
function costWords(costMm: number, bestMm: number, unit: LengthUnit): string {
  const [cost, best] = [formatLength(costMm, unit), formatLength(bestMm, unit)];
  return cost === best ? '' : `, ${cost} off in all, where the best is ${best} off`;
}

/** What one join comes to, and where no placing can make it agree. */
export function joinWords(
  { id, unlike_mm, worst_mm, drift, expected }: JoinOutcome,
  unit: LengthUnit,
): string[] {
  const length = (mm: number): string => formatLength(Math.abs(mm), unit);
  const meets =
    unlike_mm < 0.005
      ? `${id}: the colours meet all along.${expected === null ? '' : ` No two stripes are quite alike: expect the worst edge to be out by up to ${length(expected.cloth_p90_mm)}, and ${length(expected.sewn_p90_mm)} once it is cut and sewn (nine times in ten).`}`
      : `${id}: along ${length(unlike_mm)} of the seam the colours do not meet, the longest stretch ${length(worst_mm)}.`;
  if (drift === null) return [meets];
  return [
    meets,
    `  Its two sides cross the stripes at different angles, so they cannot meet all along: they do ${length(drift.agrees_at_mm)} from its start, and are ${length(drift.start_mm)} apart at its start and ${length(drift.end_mm)} at its end.`,
  ];
}
