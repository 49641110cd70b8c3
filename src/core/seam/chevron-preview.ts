import type { ClothPattern } from '../model/cloth-pattern.js';
import type { LayVerdict, SymmetryVerdict } from './allowed-lays.js';
import type { PlacePair } from './best-places.js';
import type { BandCrossing } from './clean-places.js';
import type { ColourShare } from './colour-shares.js';
import type { EdgeSequence } from './edge-sequence.js';
import type { MismatchFigures, Unevenness } from './expected-mismatch.js';
import type { MotifLattice } from './motif-mirrors.js';
import type { CutEdgeMatch, Drift } from './seam-lengths.js';
import type { SeamMatch } from './seam-match.js';

/** All that is known of one seam. */
export interface SeamPreview {
  readonly match: SeamMatch;
  /** One for each crossing of the match: what any two repeats may miss by. Null when not known, or not of a kind. */
  readonly expected: readonly (MismatchFigures | null)[];
  /** The worst edge's figures. */
  readonly worst: MismatchFigures | null;
  readonly basis: Unevenness['basis'] | null;
  /** Null when fewer than two places were photographed. */
  readonly best: PlacePair | null;
  /** Whether both halves may be cut from the same bands, one further along the stripes: then unevenness cancels. */
  readonly sameBands: boolean;
  readonly drift: Drift | null;
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
  readonly worst: MismatchFigures | null;
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
}
