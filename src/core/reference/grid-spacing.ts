import { median } from '../math/robust.js';

/** Lines of a grid that say how far apart they are, in gaps; and the part of the gaps that must agree. */
const FEWEST_GAPS = 3;
const AGREEING = 0.6;
/** Gaps below this many ticks are between two sides of one line; gaps are whole numbers of ticks to within the second. */
const ONE_LINE = 2.5;
const WHOLE = 0.35;
/** Of a row of grid lines hardly any is missed; long marks of both edges of the rule that pass for one line show in some places only. */
const WHOLE_ROW = 0.85;
const HALF_ROW = 0.65;

/**
 * Ticks from one line of a rule's grid to the next; null where the lines are too few or too uneven to tell.
 *
 * @param numbers Tick numbers at which lines of the grid stand, ascending; parts of a tick where they miss one.
 */
export function gridSpacing(numbers: readonly number[]): number | null {
  const gaps = numbers
    .slice(1)
    .map((k, i) => k - numbers[i])
    .filter((gap) => gap > ONE_LINE);
  if (gaps.length < FEWEST_GAPS) return null;
  const usual = Math.round(median(gaps));
  const agree = gaps.filter((gap) => Math.abs(gap - usual * Math.round(gap / usual)) < WHOLE);
  if (agree.length < AGREEING * gaps.length) return null;
  return everyOther(numbers, usual) ? 2 * usual : usual;
}

/** Whether every other line of the grid is there, and of those between them so few that they are none. */
function everyOther(numbers: readonly number[], spacing: number): boolean {
  const places = numbers.map((k) => Math.round((k - numbers[0]) / spacing));
  const seen = new Set(places);
  const last = places[places.length - 1];
  const shareOf = (parity: 0 | 1): number => {
    const due = Array.from({ length: last + 1 }, (_, i) => i).filter((i) => i % 2 === parity);
    return due.filter((i) => seen.has(i)).length / Math.max(1, due.length);
  };
  const [p, q] = [shareOf(0), shareOf(1)];
  return Math.max(p, q) >= WHOLE_ROW && Math.min(p, q) <= HALF_ROW;
}
