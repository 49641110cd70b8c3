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
  /** How the two halves meet, on the mean cloth. */
  readonly match: SeamMatch;
  /** One for each crossing of the match: what that edge alone may miss by, from the cloth alone. Null: not known, or not of a kind. */
  readonly expected: readonly (MismatchFigures | null)[];
  /**
   * What the worst edge of the seam may miss by, halves from any two repeats: a quantile of the largest miss, not the largest of
   * the edges' own. Null: not known, or the lay cannot match.
   */
  readonly worst: WorstFigures | null;
  /** What the figures to expect are drawn from; null when the model knows nothing of the cloth's unevenness. */
  readonly basis: Unevenness['basis'] | null;
  /** The two places to cut from; null where none can be offered, as noBest says. */
  readonly best: PlacePair | null;
  /** What the worst edge seen of those two places may miss by. */
  readonly bestExpected: WorstFigures | null;
  /** Why no places are offered; null where some are. */
  readonly noBest: NoBest | null;
  /** Whether both halves may be cut from the same bands, one further along the stripes: then unevenness cancels. */
  readonly sameBands: boolean;
  /** How sides of unequal angle part; null where the angles are equal. */
  readonly drift: Drift | null;
  /** Sides of unequal angle: where on the seam they agree, from the top. Empty for equal ones. */
  readonly agree: readonly AgreeingPlace[];
  /** What each half shows of each colour, as parts that sum to 1. */
  readonly shares: { readonly left: readonly ColourShare[]; readonly right: readonly ColourShare[] };
  /** What comes of matching at the cutting line instead, mm along the seam. */
  readonly cutEdge: CutEdgeMatch;
  /** Where to cut so that the seam keeps clear of motifs on the centre band; null when not asked for, or without motifs. */
  readonly clear: ClearSeam | null;
  /** The cross stripes of a check at the same seam; null on plain stripes, or where they run square to it or along it. */
  readonly cross: CrossSeam | null;
}

/** How cross stripes meet at a seam: along it they are (90 - angle) from its line. */
export interface CrossSeam {
  /** How the two halves meet, on the mean cloth. */
  readonly match: SeamMatch;
  /** What the worst edge may miss by, mm along the seam; null where not known, or where not all edges meet their like. */
  readonly worst: WorstFigures | null;
  /** What the figures to expect are drawn from; null when the model knows nothing of the cloth's unevenness. */
  readonly basis: Unevenness['basis'] | null;
}

export interface ClearSeam {
  /** What was asked for. */
  readonly marginMm: number;
  /** Where the left half's seam crosses its band. */
  readonly left: BandCrossing;
  /** The same of the right half. */
  readonly right: BandCrossing;
  /** The right half follows from the left one, since motifs must meet their mirror images. */
  readonly paired: boolean;
}

/** Every stage's result, in the order of the stages. */
export interface ChevronPreview {
  /** One repeat of the cloth. */
  readonly pattern: ClothPattern;
  /** What the cloth's symmetry allows, in words and lay by lay. */
  readonly verdict: SymmetryVerdict;
  /** The way in which the right half lies, and whether it is allowed. */
  readonly lay: LayVerdict;
  /** Drawn although its symmetry forbids it. */
  readonly forced: boolean;
  /** The mirror line used by the lay same-way, cloth u; null when there is none. */
  readonly axisUMm: number | null;
  /** The edges seen, one after another; null when no whole repeat was. */
  readonly sequence: EdgeSequence | null;
  /** Null on cloth without a second repeat. */
  readonly lattice: MotifLattice | null;
  /** A row for each pair of angles, a seam for each band. */
  readonly rows: readonly (readonly SeamPreview[])[];
  /** Seam allowance asked for, mm. */
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
