import { type NoFit, noFit } from './no-fit.js';
import type { Ring } from './ring.js';

/** Gives the no-fit of two rings; each is worked out once, however many problems the rings are laid in. */
export type NoFitOf = (fixed: Ring, moving: Ring) => NoFit;

export function noFitStore(): NoFitOf {
  const known = new Map<Ring, Map<Ring, NoFit>>();
  return (fixed, moving) => {
    let row = known.get(fixed);
    if (row === undefined) {
      row = new Map();
      known.set(fixed, row);
    }
    let found = row.get(moving);
    if (found === undefined) {
      found = noFit(fixed, moving);
      row.set(moving, found);
    }
    return found;
  };
}
