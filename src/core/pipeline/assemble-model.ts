import type { StripeHints } from '../base/request.js';
import { type Matrix3, multiply3 } from '../math/matrix3.js';
import type {
  BandModel,
  GivenFacts,
  Point,
  ScaleFacts,
  SecondDirection,
  Warning,
} from '../model/band-model.js';
import type { Photo } from '../raster/photo.js';
import { type CameraPlane, clothFromUndistorted, clothMap, tiltDegOf } from '../rectify/camera-plane.js';
import { extentOf } from '../rectify/cloth-picture.js';
import type { PlaneSolution } from '../rectify/solve-plane.js';
import type { Reference } from '../reference/reference.js';
import type { StripeSummary } from '../stripes/stripe-summary.js';
import { originOf } from './cloth-origin.js';
import { viewOfCloth } from './view-of-cloth.js';

export interface ModelParts {
  readonly photo: Photo;
  readonly reference: Reference;
  /** Relative standard deviation of the scale, all told. */
  readonly scaleSd: number;
  readonly plane: PlaneSolution;
  readonly summary: StripeSummary;
  /** The summary's own fields with what is printed over the stripes, see motifFacts. */
  readonly printed: Pick<BandModel, 'repeat' | 'colours' | 'bands' | 'motifs' | 'intrusions' | 'symmetry'>;
  readonly layout: 'stripe' | 'check';
  readonly check: SecondDirection | null;
  readonly skewPercent: number | null;
  readonly warnings: readonly Warning[];
  readonly hints: StripeHints;
}

/** Writes the parts of a measurement as one band model; picture px become photo px here. */
export function assembleModel(parts: ModelParts): BandModel {
  const { photo, reference, plane, summary, printed } = parts;
  const { camera } = plane;
  const k = photo.photoPerPicture;
  const inPhoto = (p: readonly [number, number]): Point => [round(p[0] * k, 3), round(p[1] * k, 3)];
  const scale: ScaleFacts = {
    px_per_mm: reference.pxPerMm * k,
    relative_sd: parts.scaleSd,
    source: reference.source,
    unit: reference.unit,
    ...(reference.ends ? { ends_px: [inPhoto(reference.ends[0]), inPhoto(reference.ends[1])] as const } : {}),
    ...(reference.corners ? { corners_px: reference.corners.map(inPhoto) } : {}),
    length_mm: reference.lengthMm,
    ...(reference.rulerClass ? { ruler_class: reference.rulerClass } : {}),
  };
  return {
    format: 'stripewright.band-model',
    version: 1,
    units: 'mm',
    photo: {
      file: photo.file ?? '',
      width_px: photo.widthPx,
      height_px: photo.heightPx,
      sha256: photo.sha256 ?? '',
    },
    scale,
    plane: {
      homography: clothFromPhoto(camera, summary.originUMm, k),
      tilt_deg: tiltDegOf(camera),
      residual_mm: Math.hypot(plane.edgeSdMm, plane.markRmsMm),
      k1: camera.k1,
    },
    stripes: {
      direction_deg: photoDirectionDeg(camera),
      layout: parts.layout,
      bow_percent: bowPercent(plane),
      skew_percent: parts.skewPercent,
    },
    repeat: printed.repeat,
    colours: printed.colours,
    bands: printed.bands,
    instances: summary.instances,
    motifs: printed.motifs,
    intrusions: printed.intrusions,
    symmetry: printed.symmetry,
    warnings: parts.warnings,
    ...(parts.check ? { check: parts.check } : {}),
    origin: originOf(scale, viewOfCloth(camera, plane.bowPerMm, summary.originUMm, k)),
    ...givenFacts(parts.hints),
  };
}

function givenFacts({ directionDeg, region, bands }: StripeHints): { given?: GivenFacts } {
  if (directionDeg === null && region === null && bands === null) return {};
  const region_px = region && ([region.x, region.y, region.width, region.height] as const);
  return { given: { direction_deg: directionDeg, region_px, bands } };
}

const round = (v: number, digits: number): number => Number(v.toFixed(digits));

/** Undistorted photo px -> cloth mm, u counted from the model's own origin. */
function clothFromPhoto(camera: CameraPlane, originUMm: number, photoPerPicture: number): Matrix3 {
  const clothFromPicture = multiply3([1, 0, -originUMm, 0, 1, 0, 0, 0, 1], clothFromUndistorted(camera));
  const full = multiply3(clothFromPicture, [1 / photoPerPicture, 0, 0, 0, 1 / photoPerPicture, 0, 0, 0, 1]);
  const last = full[8];
  return full.map((v) => v / last) as unknown as Matrix3;
}

/** Direction of the stripes at the photo's centre, degrees counter-clockwise as seen, [0, 180). */
function photoDirectionDeg(camera: CameraPlane): number {
  const { pictureFromCloth } = clothMap(camera);
  const [x0, y0] = pictureFromCloth(0, -1);
  const [x1, y1] = pictureFromCloth(0, 1);
  const deg = (Math.atan2(-(y1 - y0), x1 - x0) * 180) / Math.PI;
  return ((deg % 180) + 180) % 180;
}

/** Depth of the bow over the width it spans, in percent (as in ASTM D3882: 100 D / W), along the visible stripes. */
function bowPercent({ camera, bowPerMm }: PlaneSolution): number {
  const [, top, , low] = extentOf(camera, 0);
  const spanMm = top - low;
  return 100 * Math.abs(bowPerMm) * (spanMm / 4);
}
