import { check, listOf, numberWithin, oneOf, orNull, record, text, yesOrNo } from '../../base/expectation.js';
import type { LayAnswer } from './lay-answer.js';

/** As in a plan: no cloth in hand, and no distance on it, is a kilometre. */
const mm = numberWithin({ least: 0, most: 1e6 }, 'mm');
const number = numberWithin({ least: -1e7, most: 1e7 });
const transform = listOf(number, { least: 6, most: 6 });
const LAY = record(
  {
    plan: record({ file: text, sha256: text }),
    answer: numberWithin({ least: 1 }),
    fits: yesOrNo,
    unplaced: listOf(text),
    lengths: listOf(
      record({
        id: text,
        width_mm: mm,
        length_mm: mm,
        stripes: oneOf(['lengthwise', 'crosswise']),
        used_mm: mm,
        left_mm: mm,
        share_cut: numberWithin({ least: 0, most: 1 }),
        cloth_from_length: transform,
        copies: listOf(
          record({
            copy: text,
            piece: text,
            transform,
            part: orNull(listOf(listOf(number, { least: 2, most: 2 }), { least: 3 }, 'corners')),
          }),
        ),
      }),
      { least: 1 },
      'lengths',
    ),
  },
  'a lay as layPieces gives it',
);

/** Throws UsageError unless it is a lay. */
export const checkLay = (lay: LayAnswer): void => check(lay, 'lay', LAY);
