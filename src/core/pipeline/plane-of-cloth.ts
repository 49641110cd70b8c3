import type { ReferenceRequest } from '../base/request.js';
import { focalLength } from '../raster/focal-length.js';
import type { Photo } from '../raster/photo.js';
import { tiltDegOf } from '../rectify/camera-plane.js';
import type { PlaneRequest } from '../rectify/plane-request.js';
import { type PlaneSolution, solvePlane } from '../rectify/solve-plane.js';
import type { StripeView } from '../rectify/stripe-view.js';
import type { Reference } from '../reference/reference.js';
import type { TracedStripes } from './measure-stripes.js';

/** Nobody who photographs cloth from above tilts the camera more than this. */
const MOST_TILT_DEG = 25;

/** The plane of the cloth; flat where a density was given, since that is what a scan is. */
export function planeOfCloth(
  photo: Photo,
  request: ReferenceRequest,
  reference: Reference,
  view: StripeView,
  traced: TracedStripes,
): PlaneSolution {
  const seen = { ...evidence(photo, reference, view, traced), flat: request.kind === 'density' };
  const plane = solvePlane(seen);
  if (tiltDegOf(plane.camera) <= MOST_TILT_DEG) return plane;
  // Worn or glossy marks may seem to lean; then the rest tells the tilt, if less well.
  const withoutLean = solvePlane({ ...seen, sideMarks: [] });
  return tiltDegOf(withoutLean.camera) <= MOST_TILT_DEG ? withoutLean : plane;
}

/** The plane as the stripes alone show it, were the picture a photo: what a scan is checked by. */
export const planeAsPhoto = (
  photo: Photo,
  reference: Reference,
  view: StripeView,
  traced: TracedStripes,
): PlaneSolution => solvePlane({ ...evidence(photo, reference, view, traced), flat: false });

function evidence(
  { picture, focal35Mm }: Photo,
  reference: Reference,
  view: StripeView,
  traced: TracedStripes,
): Omit<PlaneRequest, 'flat'> {
  const { focalPx, logSd } = focalLength(focal35Mm, picture.width, picture.height);
  return {
    widthPx: picture.width,
    heightPx: picture.height,
    focalPx,
    focalLogSd: logSd,
    angle: view.frame.angle,
    pxPerMm: reference.pxPerMm,
    edges: traced.edges,
    places: traced.places,
    marks: reference.marks,
    markSdPx: reference.markSdPx,
    levelSdPx: reference.levelSdPx,
    sideMarks: reference.sideMarks,
  };
}
