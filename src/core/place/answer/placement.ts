import type { Wish } from '../plan/plan.js';

/** Six numbers of SVG's matrix: (x, y) goes to (a x + c y + e, b x + d y + f). */
export type Transform = readonly [number, number, number, number, number, number];

/** A file that a result rests on, as named in the plan. */
export interface UsedFile {
  /** As named in the plan. */
  readonly file: string;
  /** Of the file's bytes, lower-case hex. */
  readonly sha256: string;
}

/** Where the pieces of a plan lie on its cloth: place.json. Lengths in mm. */
export interface Placement {
  readonly format: 'stripewright.placement';
  readonly version: 1;
  readonly units: 'mm';
  /** The plan itself. */
  readonly plan: UsedFile;
  /** All that the plan names. */
  readonly files: readonly UsedFile[];
  /** Cheapest first. */
  readonly answers: readonly PlacementAnswer[];
  readonly warnings: readonly { readonly code: string; readonly message: string }[];
}

export interface PlacementAnswer {
  /** 1 for the cheapest. */
  readonly rank: number;
  /** Sum over the wishes of weight times miss, a share counting as 100 mm. */
  readonly cost: number;
  /** Every copy, in the order of the pieces. */
  readonly copies: readonly PlacedCopy[];
  /** Every join, in the order of the plan. */
  readonly joins: readonly JoinOutcome[];
  /** Every wish, in the order of the plan. */
  readonly wishes: readonly WishOutcome[];
}

export interface PlacedCopy {
  readonly copy: string;
  /** Id of the piece it is a copy of. */
  readonly piece: string;
  /** Cut as the piece's mirror image. */
  readonly mirrored: boolean;
  /** The head of the grain line points against v. */
  readonly turned: boolean;
  /** The side of the cloth that shows. */
  readonly face: 'right' | 'wrong';
  /** Piece frame to cloth frame. */
  readonly transform: Transform;
  /** Number of the repeat that the middle of the copy lies on, where actual stripes were used. */
  readonly repeat: number | null;
  /** Named points of the piece as given (of a half, the half's) on the cloth. */
  readonly points: Readonly<Record<string, PlacedPoint>>;
  /** Of the copy's stitched area, in the order of the model's colours. */
  readonly shares: readonly { readonly colour: string; readonly share: number }[];
}

export interface PlacedPoint {
  /** Null on plain cloth. */
  readonly band: string | null;
  /** Across the stripes, from where that band starts. */
  readonly from_start_mm: number | null;
  /** Across the stripes, cloth frame. */
  readonly u_mm: number;
  /** Along the stripes, cloth frame. */
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
  /** Edges of stripes along it, from its start. */
  readonly crossings: readonly JoinCrossing[];
  /** How sides of unequal angle part; null where they run alike, or a side does not cross the stripes. */
  readonly drift: JoinDrift | null;
  /** What to expect of a join that meets; null where it does not, or the model does not tell. */
  readonly expected: JoinExpectation | null;
}

/** A place along the join, from its start by the left side's length, where an edge of a stripe meets the seam on one side or on both. */
export interface JoinCrossing {
  /** From the start of the join, by the left side's length. */
  readonly at_mm: number;
  /** Null where no edge meets the left side here. */
  readonly left: EdgeCrossed | null;
  /** Null where no edge meets the right side here. */
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
  /** The miss is no more than the wish allows. */
  readonly met: boolean;
  /** Of every kind but shows and alike. */
  readonly miss_mm?: number;
  /** Of shows and alike: a part of the area, 0 .. 1. */
  readonly miss_share?: number;
}
