import { check, numberWithin, optional, record, yesOrNo } from '../../base/expectation.js';
import { formatLength, LENGTH_UNIT, type LengthUnit } from '../../base/length.js';
import type { WishOutcome } from '../answer/placement.js';
import { checkWishes } from './check-plan.js';
import { missesByShare, type Wish } from './plan.js';
import { type Names, wishWords } from './wish-words.js';

const MISS = optional(numberWithin({ least: 0 }));
const OUTCOME = record({ met: yesOrNo, miss_mm: MISS, miss_share: MISS }, 'what a wish got');

/** What a wish asked and what it got: "the middle of b3 lands on shoulder of front: met, 0.2 mm off". */
export function outcomeWords(wish: Wish, outcome: WishOutcome, unit: LengthUnit, names?: Names): string {
  checkWishes([wish], 'wish');
  check(outcome, 'outcome', OUTCOME);
  check(unit, 'unit', LENGTH_UNIT);
  const miss = missesByShare(wish.kind)
    ? `${Math.round(1000 * (outcome.miss_share ?? 0)) / 10} % of the area`
    : formatLength(outcome.miss_mm ?? 0, unit);
  const none = (outcome.miss_mm ?? outcome.miss_share ?? 0) < 5e-4;
  const off =
    wish.kind === 'shows'
      ? ''
      : none
        ? ''
        : wish.kind === 'meets'
          ? `, along ${miss} of the seam they do not`
          : wish.kind === 'clear'
            ? `, ${miss} of the seam is nearer`
            : `, off by ${miss}`;
  const shown =
    wish.kind === 'shows'
      ? ` (${Math.round(100 * (wish.want === 'most' ? 1 - (outcome.miss_share ?? 0) : (outcome.miss_share ?? 0)))} % of it)`
      : '';
  return `${wishWords(wish, names)}${shown}: ${outcome.met ? 'met' : wish.kind === 'shows' ? 'that is the best there is' : 'missed'}${off}`;
}
