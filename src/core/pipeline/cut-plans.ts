import { formatLength, formatSmall, type LengthUnit } from '../base/length.js';
import type { NumberedRepeat } from '../model/numbered-repeats.js';
import type { ClothTexture } from '../render/cloth-raster.js';
import type { CutPlan } from '../render/where-to-cut.js';
import { bandName, formatGiven, titleOf } from '../render/words.js';
import type { PlacePair } from '../seam/best-places.js';
import type { ChevronPreview, SeamPreview } from '../seam/chevron-preview.js';
import { halfOutline, halvesOnCloth } from '../seam/halves-on-cloth.js';
import { crossAxisOf, referenceVs } from './cloth-in-use.js';

/** The photographed cloth, and what tells a person where on it a place lies. */
export interface CutGround {
  readonly texture: ClothTexture;
  readonly repeats: readonly NumberedRepeat[];
  /** How to find 0 along the stripes on the cloth; null where the model does not say. */
  readonly originWords: string | null;
}

/** Where to cut each seam of a preview, in the shape of its rows; null where no pair of places is known. */
export function cutPlans(
  preview: ChevronPreview,
  ground: CutGround,
  unit: LengthUnit,
): readonly (readonly (CutPlan | null)[])[] {
  const crossAxis = crossAxisOf(ground.texture, preview);
  return preview.rows.map((row) => row.map((one) => cutPlan(preview, one, ground, crossAxis, unit)));
}

function cutPlan(
  preview: ChevronPreview,
  one: SeamPreview,
  ground: CutGround,
  crossAxis: number | null,
  unit: LengthUnit,
): CutPlan | null {
  const { match, best } = one;
  if (best === null) return null;
  const { request } = match;
  const { picture, pxPerMm, leftUMm, topVMm } = ground.texture;
  const photo = {
    leftUMm,
    rightUMm: leftUMm + picture.width / pxPerMm,
    topVMm,
    lowVMm: topVMm - picture.height / pxPerMm,
  };
  const v = referenceVs(preview, one, best, (photo.topVMm + photo.lowVMm) / 2, crossAxis);
  const halves = halvesOnCloth(
    request,
    {
      left: { uMm: best.left.uMm, vMm: v.leftMm },
      right: { uMm: best.right.uMm, vMm: v.rightMm },
    },
    preview.allowanceMm,
    preview.lattice?.alongMm ?? null,
  );
  const { places } = halves;
  const left = halfOutline(halves.left, request.seamMm, -1);
  const right = halfOutline(halves.right, request.seamMm, 1);
  const isBeyond = [...left.slice(0, 2), ...right.slice(0, 2)].some(
    ([u, v]) => u < photo.leftUMm || u > photo.rightUMm || v < photo.lowVMm || v > photo.topVMm,
  );
  return {
    title: `Where to cut: ${titleOf(match)}`,
    words: [
      placeWords('Left half', bandName(match, request.centre), best.left.repeat, places.left.vMm, unit),
      placeWords('Right half', bandName(match, match.rightCentre), best.right.repeat, places.right.vMm, unit),
      meetingWords(one, best, unit),
      ...(preview.lattice === null
        ? [
            'Along the stripes either half may be moved as far as you like: on plain stripes that changes nothing.',
          ]
        : []),
      ...(isBeyond
        ? [
            'What is pale was not photographed: there the stripes are drawn as they should go on. Check them on the cloth.',
          ]
        : []),
      ...(ground.originWords === null ? [] : [ground.originWords]),
    ],
    left: { outline: left, ring: [places.left.uMm, places.left.vMm], wrongSide: false },
    right: {
      outline: right,
      ring: [places.right.uMm, places.right.vMm],
      wrongSide: request.lay === 'wrong-side',
    },
    pattern: preview.pattern,
    cross: match.cross,
    photo,
    repeats: ground.repeats,
    unit,
  };
}

const placeWords = (half: string, band: string, repeat: number, vMm: number, unit: LengthUnit): string =>
  `${half}: its ringed point on the middle of ${band} in repeat ${repeat}, ${Math.abs(vMm) < 0.05 ? 'on the line marked 0' : `${formatLength(Math.abs(vMm), unit)} ${vMm > 0 ? 'above' : 'below'} 0 in this picture`}.`;

function meetingWords({ match, bestExpected }: SeamPreview, best: PlacePair, unit: LengthUnit): string {
  const most =
    bestExpected === null
      ? formatSmall(best.worstMm, unit)
      : `${formatSmall(bestExpected.cloth.p90, unit)} or less, 9 times in 10`;
  const edge = best.continued
    ? `the seam runs partly beyond the photo: of ${best.crossings.length} edges ${best.edgesSeen} were seen, and the worst of those`
    : 'the worst edge';
  return `The heavy line is the stitching line, the ringed point ${formatGiven(match.request.atMm, unit)} from its top; add seam allowance outside it. Cut like this, ${edge} is out by ${most}, if only the cloth is uneven.`;
}
