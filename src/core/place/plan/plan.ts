/**
 * A plan: which cloth, which pieces, what is sewn to what, and where the stripes shall fall. Lengths in mm once parsed; in the
 * file they may also be strings with a unit.
 */
export interface Plan {
  readonly format: 'stripewright.plan';
  readonly version: 1;
  readonly units: 'mm';
  readonly cloth: PlanCloth;
  /** Paths of pieces files, as written in the plan; empty where the pieces stand in the plan itself. */
  readonly pieceFiles: readonly string[];
  /** Pieces that stand in the plan itself, not yet checked. */
  readonly ownPieces: readonly unknown[];
  readonly joins: readonly Join[];
  readonly wishes: readonly Wish[];
  readonly lengths: readonly ClothLength[];
  /** Least distance between cutting lines, and from selvage, ends and flaws. */
  readonly marginMm: number;
}

export interface PlanCloth {
  /** Path of a band model or of its folder, as written; null: plain cloth. */
  readonly model: string | null;
  /** Null: as the model says. */
  readonly oneWay: boolean | null;
  /** Which way one-way cloth runs. */
  readonly nap: 'along' | 'across';
  /** Whether a copy may show the wrong side. */
  readonly wrongSide: boolean;
  /** Misses are measured on the stripes in view rather than on the mean repeat. */
  readonly instances: boolean;
}

/** Which half of a piece with a fold a point or a seam is on. */
export type Half = 'given' | 'mirrored';

export interface SeamOf {
  readonly copy: string;
  readonly seam: string;
  readonly half: Half;
}

/** Two seams sewn together, start to start; unequal lengths are eased evenly. */
export interface Join {
  readonly id: string;
  readonly left: JoinedSeam;
  readonly right: JoinedSeam;
}

export interface JoinedSeam extends SeamOf {
  /**
   * Sewn from its end: the legs of a dart both run with the outline, one towards the point and one away from it, and are sewn from
   * the mouth both.
   */
  readonly reversed: boolean;
}

interface AnyWish {
  readonly id: string;
  readonly must: boolean;
  /** The miss that still counts as met: mm, or a share. */
  readonly within: number;
  readonly weight: number;
}

/** Which stripes of a check a wish is about. */
export type Direction = 'across' | 'along';

export interface LandsWish extends AnyWish {
  readonly kind: 'lands';
  readonly copy: string;
  readonly point: string;
  readonly half: Half;
  readonly band: string;
  readonly side: 'middle' | 'start' | 'end';
  readonly direction: Direction;
}

export interface StaysWish extends AnyWish, SeamOf {
  readonly kind: 'stays';
  /** The end of the seam that lengths count from: a point's id. */
  readonly from: string;
  readonly band: string;
  readonly leastMm: number;
  /** Null: no limit. */
  readonly mostMm: number | null;
  readonly direction: Direction;
}

export interface MeetsWish extends AnyWish {
  readonly kind: 'meets';
  readonly join: string;
}

export interface AgreesWish extends AnyWish {
  readonly kind: 'agrees';
  readonly join: string;
  /** Part of the seam's length from its start, 0 .. 1. */
  readonly at: number;
  readonly by: 'band' | 'colour';
  readonly direction: Direction;
}

export interface ShowsWish extends AnyWish {
  readonly kind: 'shows';
  readonly copy: string;
  readonly colour: string;
  readonly want: 'most' | 'least';
  readonly near: (Pick<SeamOf, 'seam' | 'half'> & { readonly withinMm: number }) | null;
}

export interface ClearWish extends AnyWish, SeamOf {
  readonly kind: 'clear';
  readonly marginMm: number;
}

export interface AlikeWish extends AnyWish {
  readonly kind: 'alike';
  readonly copies: readonly string[];
}

export type Wish = LandsWish | StaysWish | MeetsWish | AgreesWish | ShowsWish | ClearWish | AlikeWish;

export const WISH_KINDS = ['lands', 'stays', 'meets', 'agrees', 'shows', 'clear', 'alike'] as const;

/** Whether a wish's miss is a share of an area rather than a length. */
export const missesByShare = (kind: Wish['kind']): boolean => kind === 'shows' || kind === 'alike';

/** A length of cloth in hand. */
export interface ClothLength {
  readonly id: string;
  readonly widthMm: number;
  readonly lengthMm: number;
  readonly stripes: 'lengthwise' | 'crosswise';
  /** From the left selvage (lengthwise) or the cut end (crosswise) to a start of the first band listed; null on plain cloth. */
  readonly b1StartMm: number | null;
  readonly alongStartMm: number;
  /** Boxes that no piece may touch: x, y, width, height in the length frame. */
  readonly flaws: readonly (readonly [number, number, number, number])[];
}
