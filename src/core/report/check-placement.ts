import {
  check,
  finiteNumber,
  listOf,
  numberWithin,
  orNull,
  record,
  text,
  yesOrNo,
} from '../base/expectation.js';
import type { Placement } from '../place/answer/placement.js';
import type { DrawnAnswer, SvgSheet } from '../render/placing/placement-sheets.js';

const mm = numberWithin({ least: 0 }, 'mm');
const PLACEMENT = record(
  {
    plan: record({ file: text, sha256: text }),
    answers: listOf(
      record({
        rank: numberWithin({ least: 1 }),
        cost: numberWithin({ least: 0 }),
        copies: listOf(
          record({ copy: text, turned: yesOrNo, shares: listOf(record({ share: finiteNumber })) }),
        ),
        joins: listOf(
          record({
            id: text,
            unlike_mm: mm,
            worst_mm: mm,
            drift: orNull(
              record({ agrees_at_mm: finiteNumber, start_mm: finiteNumber, end_mm: finiteNumber }),
            ),
            expected: orNull(record({ cloth_p90_mm: mm, sewn_p90_mm: mm })),
          }),
        ),
        wishes: listOf(record({ id: text, met: yesOrNo })),
      }),
      { least: 1 },
      'answers',
    ),
    warnings: listOf(record({ message: text })),
  },
  'a placement as placementOf gives it',
);

/** Throws UsageError unless it is a placement with an answer. */
export const checkPlacement = (placement: Placement): void => check(placement, 'placement', PLACEMENT);

/** Throws UsageError unless there is a drawn answer for each of the placement's. */
export const checkDrawnAnswers = (answers: readonly DrawnAnswer[], count: number): void =>
  check(
    answers,
    'answers',
    listOf(
      record({ rank: finiteNumber, title: text, wishes: listOf(record({ met: yesOrNo, words: text })) }),
      { least: count, most: count },
      'answers',
    ),
  );

/** Throws UsageError unless these are pictures as placePictures gives them. */
export const checkSheets = (sheets: readonly SvgSheet[]): void =>
  check(
    sheets,
    'sheets',
    listOf(record({ name: text, title: text, svg: text, widthPx: finiteNumber, heightPx: finiteNumber })),
  );
