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
import type { LayAnswer } from '../lay/answer/lay-answer.js';

const mm = numberWithin({ least: 0 }, 'mm');
const widthRow = record({
  width_mm: mm,
  scale: mm,
  repeat_mm: orNull(mm),
  matched_mm: orNull(mm),
  plain_mm: orNull(mm),
});
const LAY = record(
  {
    answer: numberWithin({ least: 1 }),
    fits: yesOrNo,
    unplaced: listOf(text),
    lengths: listOf(
      record({
        id: text,
        used_mm: mm,
        left_mm: mm,
        share_cut: numberWithin({ least: 0, most: 1 }),
        copies: listOf(record({ copy: text })),
      }),
      { least: 1 },
      'lengths',
    ),
    short: listOf(
      record({
        copy: text,
        length: orNull(text),
        more_mm: orNull(mm),
        repeat: orNull(finiteNumber),
        message: text,
      }),
    ),
    remedies: listOf(record({ kind: text, fits: yesOrNo, more_mm: orNull(mm), message: text })),
    buy: record({ width_mm: mm, matched_mm: orNull(mm), plain_mm: orNull(mm) }),
    widths: listOf(widthRow),
    warnings: listOf(record({ message: text })),
  },
  'a lay as layPieces gives it',
);

/** Throws UsageError unless it has all that is told of a lay. */
export const checkLay = (lay: LayAnswer): void => check(lay, 'lay', LAY);
