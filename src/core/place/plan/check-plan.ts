import {
  anything,
  check,
  type Expectation,
  finiteNumber,
  listOf,
  numberWithin,
  oneOf,
  orNull,
  record,
  text,
  yesOrNo,
} from '../../base/expectation.js';
import { checkPiece } from '../../pieces/piece/check-pieces-file.js';
import type { Piece } from '../../pieces/piece/pieces-file.js';
import { type Plan, WISH_KINDS, type Wish } from './plan.js';

/** As in the schema of plans: no cloth in hand, and no distance on it, is a kilometre. */
const mm = numberWithin({ least: 0, most: 1e6 }, 'mm');
const direction = oneOf(['across', 'along']);
const half = oneOf(['given', 'mirrored']);
const seamOf = { copy: text, seam: text, half };

const ANY_WISH = {
  id: text,
  kind: oneOf(WISH_KINDS),
  must: yesOrNo,
  within: mm,
  weight: numberWithin({ least: 0, most: 1e6 }),
};
const WISH = record(ANY_WISH, 'a wish');
const OF_KIND: Readonly<Record<Wish['kind'], Expectation>> = {
  lands: record({
    copy: text,
    point: text,
    half,
    band: text,
    side: oneOf(['middle', 'start', 'end']),
    direction,
  }),
  stays: record({ ...seamOf, from: text, band: text, leastMm: mm, mostMm: orNull(mm), direction }),
  meets: record({ join: text }),
  agrees: record({
    join: text,
    at: numberWithin({ least: 0, most: 1 }),
    by: oneOf(['band', 'colour']),
    direction,
  }),
  shows: record({
    copy: text,
    colour: text,
    want: oneOf(['most', 'least']),
    near: orNull(record({ seam: text, half, withinMm: mm })),
  }),
  clear: record({ ...seamOf, marginMm: mm }),
  alike: record({ copies: listOf(text, { least: 2 }, 'copies') }),
};

const box = listOf(finiteNumber, { least: 4, most: 4 }, 'mm: x, y, width, height');
const PLAN = record(
  {
    format: oneOf(['stripewright.plan']),
    version: oneOf([1]),
    units: oneOf(['mm']),
    cloth: record({
      model: orNull(text),
      oneWay: orNull(yesOrNo),
      nap: direction,
      wrongSide: yesOrNo,
      instances: yesOrNo,
    }),
    pieceFiles: listOf(text),
    ownPieces: listOf(anything),
    joins: listOf(record({ id: text, left: record(seamOf), right: record(seamOf) })),
    lengths: listOf(
      record({
        id: text,
        widthMm: mm,
        lengthMm: mm,
        stripes: oneOf(['lengthwise', 'crosswise']),
        b1StartMm: orNull(finiteNumber),
        alongStartMm: finiteNumber,
        flaws: listOf(box),
      }),
    ),
    marginMm: mm,
  },
  'a plan as parsePlan gives it',
);

/** Throws UsageError unless each value can be meant by itself; names are looked up where they are used, and refused. */
export function checkPlan(plan: Plan): void {
  check(plan, 'plan', PLAN);
  checkWishes(plan.wishes, 'plan.wishes');
}

export function checkWishes(wishes: readonly Wish[], parameter = 'wishes'): void {
  check(wishes, parameter, listOf(WISH));
  for (const [k, wish] of wishes.entries()) check(wish, `${parameter}[${k}]`, OF_KIND[wish.kind]);
}

export function checkPieceList(pieces: readonly Piece[]): void {
  check(pieces, 'pieces', listOf(record({}, 'a pattern piece'), { least: 1 }, 'pieces'));
  for (const [k, piece] of pieces.entries()) checkPiece(piece, `pieces[${k}]`);
}
