import type { Wish } from '../plan/plan.js';

/** Six numbers of SVG's matrix: (x, y) goes to (a x + c y + e, b x + d y + f). */
export type Transform = readonly [number, number, number, number, number, number];

/** A file that a result rests on, as named in the plan. */
export interface UsedFile {
  readonly file: string;
  readonly sha256: string;
}

/** Where the pieces of a plan lie on its cloth: place.json. Lengths in mm. */
export interface Placement {
  readonly format: 'stripewright.placement';
  readonly version: 1;
  readonly units: 'mm';
  readonly plan: UsedFile;
  /** All that the plan names. */
  readonly files: readonly UsedFile[];
  /** Cheapest first. */
  readonly answers: readonly PlacementAnswer[];
  readonly warnings: readonly { readonly code: string; readonly message: string }[];
}

export interface PlacementAnswer {
  readonly rank: number;
  /** Sum over the wishes of weight times miss, a share counting as 100 mm. */
  readonly cost: number;
  readonly copies: readonly PlacedCopy[];
  readonly joins: readonly JoinOutcome[];
  readonly wishes: readonly WishOutcome[];
}

export interface PlacedCopy {
  readonly copy: string;
  readonly piece: string;
  readonly mirrored: boolean;
  /** The head of the grain line points against v. */
  readonly turned: boolean;
  readonly face: 'right' | 'wrong';
  /** Piece frame to cloth frame. */
  readonly transform: Transform;
  /** Number of the repeat that the middle of the copy lies on, where actual stripes were used. */
  readonly repeat: number | null;
  readonly points: Readonly<Record<string, PlacedPoint>>;
  /** Of the copy's stitched area, in the order of the model's colours. */
  readonly shares: readonly { readonly colour: string; readonly share: number }[];
}

export interface PlacedPoint {
  /** Null on plain cloth. */
  readonly band: string | null;
  /** Across the stripes, from where that band starts. */
  readonly from_start_mm: number | null;
  readonly u_mm: number;
  readonly v_mm: number;
  /** Of a check: the band of the second direction. */
  readonly check_band?: string;
}

export interface JoinOutcome {
  readonly id: string;
  /** Of the left side's length, over which the sides show different colours. */
  readonly unlike_mm: number;
  /** The longest unbroken part of it. */
  readonly worst_mm: number;
  readonly crossings: readonly JoinCrossing[];
  readonly drift: JoinDrift | null;
  readonly expected: JoinExpectation | null;
}

/** A place along the join, from its start by the left side's length, where an edge of a stripe meets the seam on one side or on both. */
export interface JoinCrossing {
  readonly at_mm: number;
  readonly left: EdgeCrossed | null;
  readonly right: EdgeCrossed | null;
}

/** The bands before and after an edge, as met from the start of the join. */
export interface EdgeCrossed {
  readonly before: string;
  readonly after: string;
  /** Of a check: the edge is one of the second direction. */
  readonly direction?: 'along';
}

/**
 * How the two sides run apart: where along the join they agree best, and by how much the right side's stripes lie further along the join than
 * the left's at its start and at its end.
 */
export interface JoinDrift {
  readonly agrees_at_mm: number;
  readonly start_mm: number;
  readonly end_mm: number;
}

/** What the worst edge of a join that meets may miss by, mm along the seam, nine times in ten. */
export interface JoinExpectation {
  /** From the cloth's own unevenness alone. */
  readonly cloth_p90_mm: number;
  /** With laying, cutting and sewing, which slip by handling_mm nine times in ten (common practice). */
  readonly sewn_p90_mm: number;
  readonly handling_mm: number;
}

export interface WishOutcome {
  readonly id: string;
  readonly kind: Wish['kind'];
  readonly met: boolean;
  readonly miss_mm?: number;
  readonly miss_share?: number;
}
