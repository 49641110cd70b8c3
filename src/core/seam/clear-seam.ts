import { bandMiddleU, type ClothPattern } from '../model/cloth-pattern.js';
import type { ClearSeam } from './chevron-preview.js';
import { bestCrossing, crossingAt, type UBand } from './clean-places.js';
import type { MotifLattice, MotifMirror } from './motif-mirrors.js';
import { rightReferenceV } from './reference-v.js';
import type { SeamMatch } from './seam-match.js';

/**
 * The best places along the stripes for both halves' seams to cross the band at the reference point. Where the lay lays
 * motifs on their mirror images the right half follows from the left one; else each has its own.
 */
export function clearSeam(
  match: SeamMatch,
  lattice: MotifLattice,
  mirrors: readonly MotifMirror[],
  marginMm: number,
): ClearSeam {
  const { pattern, request } = match;
  const { lay, seamMm } = request;
  const bands = { left: uBand(pattern, request.centre), right: uBand(pattern, match.rightCentre) };
  const left = bestCrossing(lattice, bands.left, match.left, seamMm, marginMm);
  const reverses = lay === 'same-way' ? 'across' : lay === 'head-to-tail' ? 'along' : null;
  const paired = reverses !== null && mirrors.some((m) => m.reverses === reverses);
  if (!paired) {
    const right = bestCrossing(lattice, bands.right, match.right, seamMm, marginMm);
    return { marginMm, left, right, paired };
  }
  const u = {
    left: bandMiddleU(pattern, request.centre),
    right: bandMiddleU(pattern, match.rightCentre),
  };
  const rule = { lay, lattice, repeatMm: pattern.repeatMm, mirrors, crossAxis: null };
  const rightMm = rightReferenceV(rule, left.alongMm, u);
  return { marginMm, left, right: crossingAt(lattice, bands.right, match.right, seamMm, rightMm), paired };
}

function uBand(pattern: ClothPattern, band: number): UBand {
  const fromUMm = pattern.originUMm + pattern.bands[band].startMm;
  return { fromUMm, toUMm: fromUMm + pattern.bands[band].widthMm };
}
