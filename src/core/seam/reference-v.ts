import type { Lay } from './lay.js';
import type { MotifLattice, MotifMirror } from './motif-mirrors.js';

/** What tells how the right half lies along the stripes for a given left half. */
export interface PairRule {
  readonly lay: Lay;
  readonly lattice: MotifLattice | null;
  readonly repeatMm: number;
  readonly mirrors: readonly MotifMirror[];
  /** Where the cross stripes of a check mirror, cloth v; null without them. */
  readonly crossAxis: number | null;
}

/**
 * Cloth v of the right half's reference point, so that motifs and cross stripes meet if they can. A mirror or glide tells for
 * one cell of the print; each further cell between the two places adds its drop.
 * @param u cloth u of both halves' reference points
 */
export function rightReferenceV(
  { lay, lattice, repeatMm, mirrors, crossAxis }: PairRule,
  leftMm: number,
  u: { readonly left: number; readonly right: number },
): number {
  const dropMm = lattice?.dropMm ?? 0;
  const cellMm = lattice?.acrossMm ?? repeatMm;
  const cellsOn = (imageU: number): number => Math.round((u.right - imageU) / cellMm);
  if (lay === 'same-way') {
    const mirror = mirrors.find((m) => m.reverses === 'across');
    if (mirror === undefined) return leftMm;
    return leftMm + mirror.slipMm + cellsOn(2 * mirror.axisMm - u.left) * dropMm;
  }
  if (lay === 'head-to-tail') {
    const mirror = mirrors.find((m) => m.reverses === 'along');
    if (mirror !== undefined) return 2 * mirror.axisMm - leftMm + cellsOn(u.left + mirror.slipMm) * dropMm;
    return crossAxis === null ? leftMm : 2 * crossAxis - leftMm;
  }
  return leftMm + cellsOn(u.left) * dropMm;
}
