import type { Extent } from '../../pieces/geometry/outline.js';
import type { NoFitOf } from '../nofit/no-fit-store.js';
import type { Ring } from '../nofit/ring.js';

/**
 * Laying outlines into bins. Each bin is a box of its own frame: `across` is the coordinate in which places may be bound to steps (columns),
 * `slide` the other one. Lengths in mm. Which of the two runs along the length of cloth is said by the bin.
 */
export interface FitProblem {
  readonly shapes: readonly FitShape[];
  readonly bins: readonly Bin[];
  readonly items: readonly Item[];
  readonly noFitOf: NoFitOf;
}

export interface FitShape {
  /** What may not overlap: the outline moved out by half the margin. x: across, y: slide. */
  readonly ring: Ring;
  /** Of the outline itself: what must lie in the bin. */
  readonly extent: Extent;
  readonly areaMm2: number;
}

export interface Bin {
  /** Where the outlines themselves may lie: least and greatest across, then slide. */
  readonly room: readonly [number, number, number, number];
  /** The coordinate that runs along the length of cloth, from the cut end: what is used of it is to be little. */
  readonly along: 'across' | 'slide';
  /** What lies there and cannot be moved, in place. */
  readonly blocks: readonly Ring[];
}

export interface Item {
  /** Ways to lay it, for each bin. */
  readonly choices: readonly (readonly Choice[])[];
}

/** One way of laying an item in a bin: an outline, and the shifts it may have there. */
export interface Choice {
  readonly shape: number;
  readonly columns: Steps | null;
  readonly slides: Slides | null;
}

/** Shifts at + k step; step 0: one alone. Null instead of it: any. */
export interface Steps {
  readonly atMm: number;
  readonly stepMm: number;
}

export interface Slides extends Steps {
  /** What column k adds to the shift along: k times this. */
  readonly dropMm: number;
}

/** Where one item lies: a choice, and its shift. */
export interface Place {
  readonly bin: number;
  readonly choice: number;
  readonly across: number;
  readonly slide: number;
}
