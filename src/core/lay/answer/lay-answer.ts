import type { Transform, UsedFile } from '../../place/answer/placement.js';

/** Where the pieces of a plan lie on the lengths of cloth in hand: lay.json. Lengths in mm. */
export interface LayAnswer {
  readonly format: 'stripewright.lay';
  readonly version: 1;
  readonly units: 'mm';
  /** The plan itself. */
  readonly plan: UsedFile;
  /** All that the plan names. */
  readonly files: readonly UsedFile[];
  /** Rank of the placement's answer that was laid: the best that fits; where none does, the first. */
  readonly answer: number;
  /** Every copy has a place. */
  readonly fits: boolean;
  /** Copies without a place, in the order of the pieces. */
  readonly unplaced: readonly string[];
  /** Every length of the plan, in its order. */
  readonly lengths: readonly LaidLength[];
  /** Why each unplaced copy has no place, in their order. */
  readonly short: readonly ShortCopy[];
  /** What would make the pieces fit, in the order tried, up to the first that does; empty where they fit. */
  readonly remedies: readonly Remedy[];
  readonly buy: ClothToBuy;
  /** What the pieces take of cloths of other widths and repeats; empty unless asked for. */
  readonly widths: readonly WidthRow[];
  /** Least distance between cutting lines, and from selvage, ends and flaws. */
  readonly margin_mm: number;
  readonly warnings: readonly { readonly code: string; readonly message: string }[];
}

export interface LaidLength {
  readonly id: string;
  readonly width_mm: number;
  readonly length_mm: number;
  readonly stripes: 'lengthwise' | 'crosswise';
  /** From the cut end to the farthest cutting line; 0 where nothing lies on it. */
  readonly used_mm: number;
  /** From there, and the margin, to the other end. */
  readonly left_mm: number;
  /** Part of the cloth up to used_mm and a margin more that is cut out as pieces, 0 .. 1. */
  readonly share_cut: number;
  /** Length frame to cloth frame. */
  readonly cloth_from_length: Transform;
  /** In the order of the pieces. */
  readonly copies: readonly LaidCopyOnLength[];
}

export interface LaidCopyOnLength {
  readonly copy: string;
  /** Id of the piece it is a copy of. */
  readonly piece: string;
  /** Piece frame to length frame. */
  readonly transform: Transform;
  /** Turned half round from how the placement has it, which leaves its colours as they are. */
  readonly half_turned: boolean;
  /** Cutting line in the piece frame where the copy is joined from parts, of which this is one; null: the whole piece. */
  readonly part: readonly (readonly [number, number])[] | null;
}

/** What these pieces take of new cloth, margins at both ends, rounded up to 10 mm. */
export interface ClothToBuy {
  /** Width of the widest length. */
  readonly width_mm: number;
  /** Stripes matched, wherever they start on the new cloth. Null: a piece is too wide for it. */
  readonly matched_mm: number | null;
  /** The same pieces on plain cloth of that width. */
  readonly plain_mm: number | null;
}

/** What a copy without a place lacks. */
export interface ShortCopy {
  readonly copy: string;
  /** The length on which least is lacking; null: it fits none, however long. */
  readonly length: string | null;
  /** What that length would have to be longer, all other pieces where they lie; null: no length would do. */
  readonly more_mm: number | null;
  /** Number of the repeat, counted from the first whole one at the left selvage (lengthwise) or the cut end (crosswise), on which it would lie; null on plain cloth. */
  readonly repeat: number | null;
  /** The same in a sentence. */
  readonly message: string;
}

export const REMEDY_KINDS = ['further-answer', 'strip-joined', 'wish-given-up', 'more-cloth'] as const;

/** One way to make the pieces fit. */
export interface Remedy {
  readonly kind: (typeof REMEDY_KINDS)[number];
  /** All pieces fit that way. */
  readonly fits: boolean;
  /** Rank of the placement's answer that was laid. */
  readonly answer: number;
  /** The copy that is joined from two parts; else null. */
  readonly copy: string | null;
  /** The wish given up; else null. */
  readonly wish: string | null;
  /** More cloth, of the same width; else null. */
  readonly more_mm: number | null;
  readonly message: string;
  /** How the pieces would lie; empty where they would not fit. */
  readonly lengths: readonly LaidLength[];
}

/** What the pieces take of one cloth, margins at both ends, rounded up to 10 mm. */
export interface WidthRow {
  readonly width_mm: number;
  /** How much larger than the cloth's own the pattern is taken to be, across and along alike; 1: as it is. */
  readonly scale: number;
  /** Null on plain cloth. */
  readonly repeat_mm: number | null;
  /** Null: a piece is too wide for it. */
  readonly matched_mm: number | null;
  readonly plain_mm: number | null;
}
