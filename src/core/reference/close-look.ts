import type { Point } from '../math/matrix3.js';
import { focalLength } from '../raster/focal-length.js';
import type { Photo } from '../raster/photo.js';
import { type FittedSide, fitSides, sideCrossing } from './fit-side.js';
import { paperFrom } from './paper-white.js';
import { sheetPose } from './sheet-pose.js';
import type { SheetSpec } from './sheet-sizes.js';

export interface FoundSheet {
  /** Picture px, clockwise as seen, the first two at the ends of a long side; where the sides meet, were they sharp. */
  readonly corners: readonly [Point, Point, Point, Point];
  /** Standard deviation of a corner along either axis, picture px. */
  readonly cornerSdPx: number;
  /** Share of the sides' length along which the edge was seen, 0..1. */
  readonly seen: number;
  /** How far the corners are from the sheet's shape, as a fraction: sides and squareness together. */
  readonly misfit: number;
}

/** One percent off the sheet's shape counts as much as so many percent of the sides unseen. */
const shapeWeight = 4;
/** All four sides must be seen along this much of them, in the mean. */
const leastMeanSeen = 0.8;
/**
 * Shape against the sheet's, sides and squareness together. Paper's own tolerance is most of it; a lens, and a focal length not
 * known at 15 degrees of tilt, come to 0.005.
 */
const mostMisfit = 0.02;
/** Sides seen along no more than the least of them may be stripes' by chance: their shape must then be so good, and less so the more is seen. */
const mostMisfitLeastSeen = 0.005;
const misfitPerSeen = 0.1;
/** Shadows beside the sheet and bent paper move corners by about this, whatever the number of places. */
const leastCornerSdPx = 0.25;
/** Where no choice of sides is a sheet, they are looked for no further off than this part of the reach. */
const nearer = 0.4;
/** Choices whose merit is this little less are as good: a stripe of the sheet's own colour beside it may pass for a part of it. */
const asGood = 0.04;
/** How far a side may be off at the second look, px. */
const secondReachPx = 4;

const merit = ({ seen, misfit }: FoundSheet): number => seen - shapeWeight * misfit;

/**
 * A supposed sheet at full resolution: edges along its four sides, of each side those that could be the sheet's, and of all
 * choices the one that has most of a sheet about it; then once more from there.
 *
 * @param rough corners clockwise as seen, the first two at the ends of a long side; picture px.
 * @param reachPx how far off they may be.
 */
export function closeLook(
  photo: Photo,
  spec: SheetSpec,
  rough: readonly Point[],
  reachPx: number,
): FoundSheet | null {
  // Stripes that end at a sheet can draw a side's path from the sheet's own edge where that is faint; near by there are fewer.
  let sheets = sheetsOf(photo, spec, rough, sidesNear(photo, spec, rough, reachPx));
  if (sheets.length === 0)
    sheets = sheetsOf(photo, spec, rough, sidesNear(photo, spec, rough, nearer * reachPx));
  const first = best(sheets);
  if (first === null) return null;
  const nearest = sidesNear(photo, spec, first.corners, secondReachPx).map((sides) =>
    [...sides].sort((p, q) => Math.abs(middle(p)) - Math.abs(middle(q))).slice(0, 1),
  );
  // A side blurred over more than the second look's reach shows no edge there.
  const found = best(sheetsOf(photo, spec, first.corners, nearest)) ?? first;
  return amongRivals(found, sheets);
}

/** A sheet of which there are others as good: as unsure as they lie apart, beyond what the second look settles. */
export function amongRivals(chosen: FoundSheet, others: readonly FoundSheet[]): FoundSheet {
  const apart = (sheet: FoundSheet): number =>
    Math.max(
      ...sheet.corners.map(([x, y]) =>
        Math.min(...chosen.corners.map((p) => Math.hypot(x - p[0], y - p[1]))),
      ),
    );
  const rivals = others
    .filter((sheet) => merit(sheet) > merit(chosen) - asGood)
    .map(apart)
    .filter((px) => px > secondReachPx);
  return { ...chosen, cornerSdPx: Math.max(chosen.cornerSdPx, ...rivals.map((px) => px / 2)) };
}

const middle = ({ o }: FittedSide): number => o[0];

/** For each side, the edges that could be it. */
function sidesNear(
  { picture }: Photo,
  spec: SheetSpec,
  corners: readonly Point[],
  reachPx: number,
): FittedSide[][] {
  return corners.map((from, k) => {
    const to = corners[(k + 1) % 4];
    const sideMm = k % 2 === 0 ? spec.longMm : spec.shortMm;
    const sides = fitSides(picture, from, to, 0.02 + (1.3 * spec.cornerMm) / sideMm, reachPx);
    if (!spec.plain) return sides;
    const length = Math.hypot(to[0] - from[0], to[1] - from[1]);
    const across = ((k % 2 === 0 ? spec.shortMm : spec.longMm) / sideMm) * length;
    return sides.filter((side) => paperFrom(picture, side, length, 0.07 * across));
  });
}

/** The one that has most of a sheet about it. */
export const best = (sheets: readonly FoundSheet[]): FoundSheet | null =>
  sheets.reduce<FoundSheet | null>(
    (found, sheet) => (found === null || merit(sheet) > merit(found) ? sheet : found),
    null,
  );

/** What each choice of sides makes, where that has a sheet's shape. */
function sheetsOf(
  photo: Photo,
  spec: SheetSpec,
  corners: readonly Point[],
  choices: readonly (readonly FittedSide[])[],
): FoundSheet[] {
  const sheets: FoundSheet[] = [];
  for (const a of choices[0]) {
    for (const b of choices[1]) {
      for (const c of choices[2]) {
        for (const d of choices[3]) {
          const sheet = judged(photo, spec, corners, [a, b, c, d]);
          if (sheet !== null) sheets.push(sheet);
        }
      }
    }
  }
  return sheets;
}

function judged(
  { picture, focal35Mm }: Photo,
  spec: SheetSpec,
  corners: readonly Point[],
  sides: readonly FittedSide[],
): FoundSheet | null {
  const seen = sides.reduce((sum, side) => sum + side.seen, 0) / 4;
  if (seen < leastMeanSeen) return null;
  const met = corners.map((guess, k) => sideCrossing(sides[(k + 3) % 4], sides[k], guess));
  if (met.some((p) => p === null)) return null;
  const { width, height } = picture;
  const pose = sheetPose(met as Point[], spec, focalLength(focal35Mm, width, height).focalPx, [
    width / 2,
    height / 2,
  ]);
  if (pose === null) return null;
  const misfit = Math.abs(pose.sideMisfit) + Math.abs(pose.squareMisfit);
  if (misfit > Math.min(mostMisfit, mostMisfitLeastSeen + misfitPerSeen * (seen - leastMeanSeen)))
    return null;
  return {
    corners: pose.corners,
    cornerSdPx: Math.max(leastCornerSdPx, ...sides.map((side) => side.endSdPx)),
    seen,
    misfit,
  };
}
