import type { ClothPattern } from '../model/cloth-pattern.js';
import type { AgreeingPlace } from './agreement.js';
import type { LayVerdict, SymmetryVerdict } from './allowed-lays.js';
import type { NoBest, PlacePair } from './best-places.js';
import type { BandCrossing } from './clean-places.js';
import type { ColourShare } from './colour-shares.js';
import type { EdgeSequence } from './edge-sequence.js';
import type { WorstFigures } from './expect/seam-expectation.js';
import type { Unevenness } from './expect/unevenness.js';
import type { MismatchFigures } from './expect/worst-edge.js';
import type { MotifLattice } from './motif-mirrors.js';
import type { CutEdgeMatch, Drift } from './seam-lengths.js';
import type { SeamMatch } from './seam-match.js';

/** All that is known of one seam. */
export interface SeamPreview {
  readonly match: SeamMatch;
  /** One for each crossing of the match: what that edge alone may miss by, from the cloth alone. Null: not known, or not of a kind. */
  readonly expected: readonly (MismatchFigures | null)[];
  /**
   * What the worst edge of the seam may miss by, halves from any two repeats: a quantile of the largest miss, not the largest of
   * the edges' own. Null: not known, or the lay cannot match.
   */
  readonly worst: WorstFigures | null;
  readonly basis: Unevenness['basis'] | null;
  /** The two places to cut from; null where none can be offered, as noBest says. */
  readonly best: PlacePair | null;
  /** What the worst edge seen of those two places may miss by. */
  readonly bestExpected: WorstFigures | null;
  readonly noBest: NoBest | null;
  /** Whether both halves may be cut from the same bands, one further along the stripes: then unevenness cancels. */
  readonly sameBands: boolean;
  readonly drift: Drift | null;
  /** Sides of unequal angle: where on the seam they agree, from the top. Empty for equal ones. */
  readonly agree: readonly AgreeingPlace[];
  readonly shares: { readonly left: readonly ColourShare[]; readonly right: readonly ColourShare[] };
  readonly cutEdge: CutEdgeMatch;
  /** Where to cut so that the seam keeps clear of motifs on the centre band; null when not asked for, or without motifs. */
  readonly clear: ClearSeam | null;
  /** The cross stripes of a check at the same seam; null on plain stripes, or where they run square to it or along it. */
  readonly cross: CrossSeam | null;
}

/** How cross stripes meet at a seam: along it they are (90 - angle) from its line. */
export interface CrossSeam {
  readonly match: SeamMatch;
  readonly worst: WorstFigures | null;
  readonly basis: Unevenness['basis'] | null;
}

export interface ClearSeam {
  /** What was asked for. */
  readonly marginMm: number;
  readonly left: BandCrossing;
  readonly right: BandCrossing;
  /** The right half follows from the left one, since motifs must meet their mirror images. */
  readonly paired: boolean;
}

/** Every stage's result, in the order of the stages. */
export interface ChevronPreview {
  readonly pattern: ClothPattern;
  readonly verdict: SymmetryVerdict;
  readonly lay: LayVerdict;
  /** Drawn although its symmetry forbids it. */
  readonly forced: boolean;
  /** The mirror line used by the lay same-way, cloth u; null when there is none. */
  readonly axisUMm: number | null;
  readonly sequence: EdgeSequence | null;
  /** Null on cloth without a second repeat. */
  readonly lattice: MotifLattice | null;
  /** A row for each pair of angles, a seam for each band. */
  readonly rows: readonly (readonly SeamPreview[])[];
  readonly allowanceMm: number;
  /** As asked for; each seam's own is in its match. */
  readonly shiftMm: number;
  /** What laying, cutting and sewing were taken to slip, along the seam, nine times in ten. */
  readonly handlingMm: number;
  /** Pictures of the photographed cloth mark no difference shorter than this. */
  readonly visibleMm: number;
  /** Where sides of unequal angle were made to agree; null: not asked for. */
  readonly agreeAtMm: number | null;
}
