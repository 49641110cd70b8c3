import {
  anything,
  callback,
  check,
  eitherOf,
  finiteNumber,
  listOf,
  oneOf,
  orNull,
  record,
  text,
} from '../../base/expectation.js';
import { UsageError } from '../../base/outcome.js';
import type { Placings } from '../place-pieces.js';
import { checkWishes } from '../plan/check-plan.js';
import type { Wish } from '../plan/plan.js';

/** Sides of pieces, found places: taken on trust but for their number. */
const PLACINGS = record(
  {
    shapes: listOf(record({ turn: listOf(finiteNumber) }), { least: 1 }),
    cloth: orNull(record({ copies: anything, lattice: anything })),
    joins: listOf(record({})),
    terms: listOf(record({ measure: record({ miss: callback }) })),
    found: listOf(record({ placing: listOf(record({})), cost: finiteNumber }), { least: 1 }),
    warnings: listOf(record({ code: text, message: text })),
  },
  'what placePieces gives',
);

/** Throws UsageError unless it is what placePieces gave for a plan with these wishes. */
export function checkPlacings(placings: Placings, wishes: readonly Wish[]): void {
  check(placings, 'placings', PLACINGS);
  checkWishes(wishes);
  if (placings.terms.length !== wishes.length) {
    throw new UsageError(
      `expected the ${placings.terms.length} of the plan, received ${wishes.length}`,
      'wishes',
    );
  }
}

export const USED_FILE = record({ file: text, sha256: eitherOf(text, oneOf([''])) }, 'a file that was used');
