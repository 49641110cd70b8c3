import { type Outcome, succeed } from '../../base/outcome.js';
import type { SheetSize } from '../../base/request.js';
import type { Point } from '../../math/matrix3.js';
import { focalLength } from '../../raster/focal-length.js';
import type { Photo } from '../../raster/photo.js';
import { closeLook, type FoundSheet } from '../../reference/close-look.js';
import type { Reference } from '../../reference/reference.js';
import { referenceFromCorners } from '../../reference/reference-from-corners.js';
import { sheetPose } from '../../reference/sheet-pose.js';
import { sheetSpecs } from '../../reference/sheet-sizes.js';
import { paperQuads } from '../../trace/ground/paper-quads.js';

/** How far off its sides a rough quadrilateral may lie, as a part of its shortest side, and at least, px. */
const REACH_PART = 0.08;
const LEAST_REACH_PX = 10;
/** Shape of a rough quadrilateral against the sheet's, sides and squareness together. */
const MOST_MISFIT = 0.4;
/** A sheet that nobody told of is taken only where it is seen along so much of its sides and has its shape to this; unknown focal length: twice. */
const SURELY_SEEN = 0.95;
const SURELY_SHAPED = 0.006;

/**
 * A sheet or card found as what stands out from the ground and has its shape: on a mat of many lines, or beside boards' seams, where its own
 * sides are lost among others. `refused`: what is answered where there is none.
 *
 * @param sizes those that it may be; of several, the one whose shape fits best, and only where that leaves no doubt
 */
export function sheetByGround(
  photo: Photo,
  sizes: readonly SheetSize[],
  refused: Outcome<never>,
): Outcome<Reference> {
  const { width, height } = photo.picture;
  const { focalPx } = focalLength(photo.focal35Mm, width, height);
  const found: { size: SheetSize; sheet: FoundSheet }[] = [];
  for (const quad of paperQuads(photo.picture)) {
    for (const size of sizes) {
      const pose = sheetPose(quad, sheetSpecs[size], focalPx, [width / 2, height / 2]);
      if (pose === null || Math.abs(pose.sideMisfit) + Math.abs(pose.squareMisfit) > MOST_MISFIT) continue;
      const reach = Math.max(LEAST_REACH_PX, REACH_PART * shortestSide(quad));
      const sheet = closeLook(photo, sheetSpecs[size], pose.corners, reach);
      if (sheet !== null) found.push({ size, sheet });
    }
  }
  const most = SURELY_SHAPED * (photo.focal35Mm === null ? 2 : 1);
  const sure = found.filter(({ sheet }) => sheet.seen > SURELY_SEEN && sheet.misfit < most);
  const among = sizes.length === 1 ? found : sure;
  const [best] = [...among].sort((p, q) => meritOf(q.sheet) - meritOf(p.sheet));
  if (best === undefined) return refused;
  const reference = referenceFromCorners(photo, best.sheet.corners, best.size, best.sheet.cornerSdPx);
  if (!reference.ok) return refused;
  return succeed(sizes.length === 1 ? reference.value : { ...reference.value, insteadOfRuler: best.size });
}

const meritOf = ({ seen, misfit }: FoundSheet): number => seen - 4 * misfit;

const shortestSide = (quad: readonly Point[]): number =>
  Math.min(
    ...quad.map(([x, y], k) => {
      const [u, v] = quad[(k + 1) % quad.length];
      return Math.hypot(u - x, v - y);
    }),
  );
