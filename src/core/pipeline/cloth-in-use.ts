import { wrap } from '../model/cloth-pattern.js';
import type { ClothContinuation, ClothTexture } from '../render/cloth-raster.js';
import { crossAxisMm } from '../render/cross-axis.js';
import { fillCloth } from '../render/fill-cloth.js';
import { type PlacePair, pairOfPlaces } from '../seam/best-places.js';
import type { ChevronPreview, SeamPreview } from '../seam/chevron-preview.js';
import { placesOf } from '../seam/edge-sequence.js';
import { placedMatch } from '../seam/placed-match.js';
import { type PairRule, rightReferenceV } from '../seam/reference-v.js';
import type { SeamMatch } from '../seam/seam-match.js';

/** The part of the photographed cloth that is used, and how it goes on beyond. */
export function clothContinuation(texture: ClothTexture, preview: ChevronPreview): ClothContinuation {
  const { pattern, sequence, lattice } = preview;
  const { picture, pxPerMm, leftUMm, topVMm } = texture;
  const rightUMm = leftUMm + picture.width / pxPerMm;
  const n = pattern.bands.length;
  const fromUMm = sequence === null ? leftUMm : Math.max(leftUMm, sequence.edgeU(0));
  const toUMm = sequence === null ? rightUMm : Math.min(rightUMm, sequence.edgeU(sequence.seen - 1));
  const seen =
    sequence === null ? Math.max(1, Math.floor((rightUMm - leftUMm) / pattern.repeatMm)) : sequence.repeats;
  // A print whose cell takes several repeats goes on by whole cells, as far as one is in view.
  const perCell = lattice === null ? 1 : Math.max(1, Math.round(lattice.acrossMm / pattern.repeatMm));
  const repeats = seen < perCell ? seen : seen - (seen % perCell);
  const acrossMm =
    sequence === null ? repeats * pattern.repeatMm : sequence.edgeU(repeats * n) - sequence.edgeU(0);
  const toVMm = topVMm;
  const fromVMm = topVMm - picture.height / pxPerMm;
  const spanMm = toVMm - fromVMm;
  const alongMm =
    lattice === null ? null : lattice.alongMm * Math.max(1, Math.floor(spanMm / lattice.alongMm));
  const dropMm = lattice === null ? 0 : wrap((repeats / perCell) * lattice.dropMm, lattice.alongMm);
  return { fromUMm, toUMm, acrossMm, dropMm, fromVMm, toVMm, alongMm };
}

/** The whole cloth, without ruler or gaps, as far as they can be filled. */
export function wholeCloth(texture: ClothTexture, { lattice }: ChevronPreview): ClothTexture {
  const { pxPerMm } = texture;
  return fillCloth(
    texture,
    lattice === null
      ? null
      : {
          across: lattice.acrossMm * pxPerMm,
          along: lattice.alongMm * pxPerMm,
          drop: lattice.dropMm * pxPerMm,
        },
  );
}

/** Where the cross stripes of a check mirror, cloth v; null on cloth without them. */
export const crossAxisOf = (texture: ClothTexture, { lattice }: ChevronPreview): number | null =>
  lattice === null || lattice.dots.length > 0 ? null : crossAxisMm(texture, lattice.alongMm);

const pairRule = (
  { pattern, lattice, lay, verdict }: ChevronPreview,
  crossAxis: number | null,
): PairRule => ({
  lay: lay.lay,
  lattice,
  repeatMm: pattern.repeatMm,
  mirrors: verdict.motifs ?? [],
  crossAxis,
});

/** The seam as cut from the best two places, or from the only one; from the mean cloth when none was seen whole. */
export function seamOnCloth(
  preview: ChevronPreview,
  one: SeamPreview,
  use: ClothContinuation,
  crossAxis: number | null,
): SeamMatch {
  const { match } = one;
  const { sequence } = preview;
  if (sequence === null) return match;
  const left = placesOf(sequence, match.request.centre)[0];
  const right = placesOf(sequence, match.rightCentre)[0];
  if (one.best === null && (left === undefined || right === undefined)) return match;
  const pair = one.best ?? pairOfPlaces(sequence, match.request, left, right).pair;
  const middleV = (use.fromVMm + use.toVMm) / 2;
  const v = referenceVs(preview, one, pair, middleV, crossAxis);
  return placedMatch(match, sequence, pair, v, preview.visibleMm);
}

/**
 * Where along the stripes both halves' reference points lie: at `nearVMm`, or at the clean place nearest it where one was asked for;
 * the right one so that prints and cross stripes meet.
 */
export function referenceVs(
  preview: ChevronPreview,
  one: SeamPreview,
  pair: PlacePair,
  nearVMm: number,
  crossAxis: number | null,
): { readonly leftMm: number; readonly rightMm: number } {
  const { lattice } = preview;
  const near = (alongMm: number): number =>
    lattice === null
      ? alongMm
      : alongMm + Math.round((nearVMm - alongMm) / lattice.alongMm) * lattice.alongMm;
  const leftMm = one.clear === null ? nearVMm : near(one.clear.left.alongMm);
  const u = { left: pair.left.uMm, right: pair.right.uMm };
  const rightMm =
    one.clear === null || one.clear.paired
      ? rightReferenceV(pairRule(preview, crossAxis), leftMm, u)
      : near(one.clear.right.alongMm);
  return { leftMm, rightMm };
}
