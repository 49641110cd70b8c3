import type { Measure } from '../miss/measure.js';
import type { LaidCopy } from '../shape/copy-shape.js';
import type { LayOption } from '../shape/lay-options.js';

/** A wish as the search sees it. */
export interface Term {
  readonly measure: Measure;
  /** Cost of one mm, or of the whole of a share. */
  readonly weight: number;
  readonly must: boolean;
  /** The miss up to which a must holds, in the miss's own unit. */
  readonly within: number;
}

/** Places along one axis of the cloth that a copy may take. */
export interface OffsetRange {
  readonly fromMm: number;
  readonly toMm: number;
  /** toMm is fromMm again, one repeat on. */
  readonly isRound: boolean;
}

/** What may be chosen for one copy. */
export interface CopyChoices {
  readonly options: readonly LayOption[];
  /** Null where no place across them changes anything. */
  readonly across: OffsetRange | null;
  /** Null where the place along the stripes changes nothing. */
  readonly along: OffsetRange | null;
  /** Where a place changes nothing, the piece frame's own origin comes to lie at 0: this, times the option's signs, is the offset. */
  readonly still: readonly [number, number];
}

export interface PlacingProblem {
  readonly copies: readonly CopyChoices[];
  readonly terms: readonly Term[];
  /** On a check: the same problem as either direction alone sees it; null on stripes. */
  readonly axes: AxisProblems | null;
}

/**
 * The directions of a check as if each were all there is: a bound, since a place where both differ counts twice. In `along` the two axes
 * of copies and options have changed places.
 */
export interface AxisProblems {
  readonly across: PlacingProblem;
  readonly along: PlacingProblem;
}

/** One way of laying one copy, with the option it stands for. */
export interface CopyState extends LaidCopy {
  readonly option: LayOption;
}

/** One for each copy. */
export type Placing = readonly CopyState[];

export const stateOf = (option: LayOption, acrossMm: number, alongMm: number): CopyState => ({
  option,
  across: { sign: option.across, offsetMm: acrossMm },
  along: { sign: option.along, offsetMm: alongMm },
});

/** A mm by which a must is missed beyond what it allows outweighs whatever else can be had. */
export const MUST_WEIGHT = 1e4;

/** What one term adds for a miss: its cost, and a penalty where a must is not held. slack: miss that a coarse look overlooks. */
export function termCost({ weight, must, within }: Term, miss: number, slack = 0): number {
  const over = must ? miss - within - slack : 0;
  return weight * miss + (over > 0 ? MUST_WEIGHT * over : 0);
}

/** Cost of a placing, and how far its musts are from being held (the sum of what is over, in their own units). */
export function costOfPlacing({ terms }: PlacingProblem, placing: Placing): { cost: number; over: number } {
  let cost = 0;
  let over = 0;
  for (const { measure, weight, must, within } of terms) {
    const miss = measure.miss(measure.copies.map((copy) => placing[copy]));
    cost += weight * miss;
    // A must that is held to rounding is held.
    if (must) over += Math.max(0, miss - within - 1e-6);
  }
  return { cost, over };
}
