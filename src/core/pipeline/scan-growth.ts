import { type Outcome, refuse } from '../base/outcome.js';
import type { Warning } from '../model/band-model.js';
import { type CameraPlane, clothMap, tiltDegOf } from '../rectify/camera-plane.js';
import type { PlaneSolution } from '../rectify/solve-plane.js';

/** So many standard deviations of the tilt are no accident. */
const SURE = 3;
/** A scanner keeps its scale within a thousandth: ten times that is told. */
const TOLD = 0.01;
/** Where stripes grow by a quarter, what one is wide depends more on where it lies than on the cloth. */
const TOO_MUCH = 0.25;

/**
 * By how much stripes seem to grow over a picture that was given as a flat scan: the greatest length across the stripes of a pixel at its
 * corners over the least, less one. 0 where the stripes do not surely show it.
 *
 * @param asPhoto The plane as the stripes alone show it.
 */
export function scanGrowth(asPhoto: PlaneSolution): number {
  if (tiltDegOf(asPhoto.camera) < SURE * asPhoto.tiltSdDeg) return 0;
  const { widthPx, heightPx } = asPhoto.camera;
  const lengths = [0, widthPx].flatMap((x) => [0, heightPx].map((y) => acrossPerPx(asPhoto.camera, x, y)));
  return Math.max(...lengths) / Math.min(...lengths) - 1;
}

/** How fast u grows at a place of the picture, mm a px. */
function acrossPerPx(camera: CameraPlane, x: number, y: number): number {
  const { clothFromPicture } = clothMap(camera);
  const [u] = clothFromPicture(x, y);
  return Math.hypot(clothFromPicture(x + 1, y)[0] - u, clothFromPicture(x, y + 1)[0] - u);
}

/** A picture that is surely no scan, whatever density it was given. `hasRuler`: one lies in view. */
export function refuseGrowth(growth: number, hasRuler: boolean): Outcome<never> | null {
  if (growth < TOO_MUCH) return null;
  return refuse(
    'no-scale',
    `The stripes grow by ${percent(growth)} from one corner of the picture to another, as in a photo taken aslant, so no single scale fits all of it`,
    hasRuler
      ? 'leave the given scale out, and the ruler in view gives both scale and tilt'
      : 'leave the given scale out and take a photo with a ruler or a sheet of paper lying on the cloth, or scan it flat',
    ['density'],
  );
}

export function growthWarnings(growth: number): Warning[] {
  if (growth < TOLD) return [];
  return [
    {
      code: 'not-flat',
      message: `The stripes grow by ${percent(growth)} from one corner of the picture to another, as in a photo taken aslant: lengths may be off by as much, since a given number of pixels a mm holds for a flat scan only. Leave it out and take a photo with a ruler or a sheet of paper lying on the cloth, or scan it flat.`,
      settings: ['density'],
    },
  ];
}

const percent = (part: number): string => `${(100 * part).toFixed(part < 0.1 ? 1 : 0)} %`;
