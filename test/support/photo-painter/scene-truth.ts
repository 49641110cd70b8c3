import { onCloth } from './cloth-border.js';
import type { ClothSurface, ClothView } from './cloth-surface.js';
import { EDGE_ROW_MM, type EdgeTable } from './edge-table.js';
import { laidReference } from './laid-reference.js';
import { inkShares, isBalanced } from './pattern-truth.js';
import type { PinholeCamera } from './pinhole-camera.js';
import type { PlaneMap } from './plane-map.js';
import { referenceSurface } from './reference-surface.js';
import type { BandSpec, ClothBorder, ExpectedOutcome, PlacedReference, Scene } from './scene.js';
import { seededRandom } from './seeded-random.js';

type Point = readonly [number, number];

/** Truth beside a photo, as JSON. Lengths in mm on the cloth, photo points in px of the upright photo. */
export interface SceneTruth {
  readonly name: string;
  readonly category: string;
  readonly seed: number;
  readonly image_size: Point;
  readonly focal_35mm: number;
  readonly exif_focal: boolean;
  readonly exif_orientation: number;
  readonly reference: ReferenceTruth | null;
  readonly homography_cloth_mm_to_photo_px: readonly (readonly number[])[];
  readonly k1_half_diagonal: number;
  readonly focal_px: number;
  readonly tilt_deg: number;
  readonly bow_percent: number;
  readonly skew_percent: number;
  readonly expected_outcome: ExpectedOutcome;
  readonly stripe_direction_deg: number | null;
  readonly repeat_across_mm: number | null;
  readonly repeat_along_mm: number | null;
  readonly drop: number | null;
  /** One cell of the print across, where it is told. */
  readonly repeat_across_motif_mm?: number;
  readonly bands: readonly BandTruth[];
  readonly instances: readonly InstanceTruth[];
  readonly motif_colours: readonly string[];
  readonly colour_share: Readonly<Record<string, number>>;
  readonly balanced: boolean | null;
  readonly directional: boolean | null;
  readonly check: { readonly bands: readonly BandTruth[]; readonly repeat_mm: number } | null;
}

export interface ReferenceTruth {
  readonly type: string;
  readonly unit: 'mm' | 'inch' | null;
  readonly length_mm: number;
  readonly ends_px: readonly Point[];
  readonly corners_px: readonly Point[];
  /** Of the marked face above the cloth: a scale read from it is high by height / distance. */
  readonly height_mm?: number;
  /**
   * Length of cloth that one marked length hides: the face is nearer the camera than the cloth, and its marks may be
   * farther apart than they say.
   */
  readonly apparent_gain?: number;
}

export interface BandTruth {
  readonly colour_srgb_hex: string;
  readonly width_mm_nominal: number;
  /** A shaded band's colour at its end. */
  readonly shades_to_srgb_hex?: string;
  readonly width_mm_mean_visible?: number | null;
  readonly width_mm_sd_visible?: number | null;
  readonly seen?: number;
}

export interface InstanceTruth {
  readonly repeat: number;
  readonly band: number;
  readonly width_mm: number;
  readonly visible_length_mm: number;
}

/** An instance is listed when at least this much of its length is in view. */
const LEAST_VISIBLE_MM = 60;

export function sceneTruth(
  scene: Scene,
  camera: PinholeCamera,
  cloth: ClothSurface,
  view: ClothView,
): SceneTruth {
  const ground = scene.cloth.ground;
  const striped = ground.kind === 'striped' ? ground : null;
  const { widthPx, heightPx } = scene.camera;
  const covers = onCloth(scene.cloth.borders ?? []);
  const inPhoto = (u: number, v: number): boolean => {
    if (!covers(u, v)) return false;
    const [x, y] = camera.photoFromCloth(u, v);
    return x >= 0 && x <= widthPx && y >= 0 && y <= heightPx;
  };
  const instances = cloth.edges ? seenInstances(cloth.edges, striped?.bands.length ?? 0, view, inPhoto) : [];
  const matrix = camera.photoFromPlane(0);
  return {
    name: scene.name,
    category: scene.category,
    seed: scene.seed,
    image_size: [widthPx, heightPx],
    focal_35mm: scene.camera.focal35Mm,
    exif_focal: scene.camera.exifFocal,
    exif_orientation: scene.camera.exifOrientation,
    reference: scene.reference && referenceTruth(scene.reference, camera),
    homography_cloth_mm_to_photo_px: [matrix.slice(0, 3), matrix.slice(3, 6), matrix.slice(6, 9)],
    k1_half_diagonal: scene.camera.k1,
    focal_px: camera.focalPx,
    tilt_deg: camera.tiltDeg,
    bow_percent: striped?.bowPercent ?? 0,
    skew_percent: skewPercent(scene.cloth.borders ?? []),
    expected_outcome: scene.expectedOutcome,
    stripe_direction_deg: striped
      ? directionDeg(matrix, widthPx / 2, heightPx / 2, scene.camera.aimMm)
      : null,
    repeat_across_mm: striped ? striped.bands.reduce((sum, band) => sum + band.widthMm, 0) : null,
    repeat_along_mm: striped?.print?.alongMm ?? striped?.motif?.alongMm ?? null,
    drop: striped?.print?.drop ?? striped?.motif?.drop ?? null,
    ...(striped?.print
      ? {
          repeat_across_motif_mm:
            striped.print.acrossRepeats * striped.bands.reduce((sum, band) => sum + band.widthMm, 0),
        }
      : {}),
    bands: (striped?.bands ?? []).map((band, i) => ({
      colour_srgb_hex: band.colour,
      width_mm_nominal: band.widthMm,
      ...(band.shadeTo === undefined ? {} : { shades_to_srgb_hex: band.shadeTo }),
      ...spread(instances.filter((instance) => instance.band === i).map((instance) => instance.width_mm)),
    })),
    instances,
    motif_colours: striped?.print
      ? [...new Set(striped.print.motifs.map((one) => one.colour))]
      : striped?.motif
        ? [striped.motif.colour, striped.motif.ribColour]
        : [],
    // A shaded band has no one colour to count.
    colour_share: striped && !striped.check && !isShaded(striped.bands) ? inkShares(striped) : {},
    balanced: striped ? isBalanced(striped.bands) : null,
    directional: striped?.print ? striped.print.directional : striped?.motif ? true : null,
    check: striped?.check
      ? {
          bands: striped.check.map((band) => ({
            colour_srgb_hex: band.colour,
            width_mm_nominal: band.widthMm,
          })),
          repeat_mm: striped.check.reduce((sum, band) => sum + band.widthMm, 0),
        }
      : null,
  };
}

/** How far the stripes are from square to a selvage that they meet, 100 tan; 0 where they run along it. ASTM D3882. */
function skewPercent(borders: readonly ClothBorder[]): number {
  const met = borders.find(({ normalDeg, selvage }) => selvage && Math.abs(cosDeg(normalDeg)) < 0.5);
  return met ? Math.abs(100 / Math.tan((met.normalDeg * Math.PI) / 180)) : 0;
}

const isShaded = (bands: readonly BandSpec[]): boolean => bands.some(({ shadeTo }) => shadeTo !== undefined);

const cosDeg = (deg: number): number => Math.cos((deg * Math.PI) / 180);

/** Direction of growing v as the photo shows it at its centre: 0 = +x, counter-clockwise, [0, 180). */
function directionDeg(m: PlaneMap, cx: number, cy: number, [u, v]: Point): number {
  const w = m[6] * u + m[7] * v + m[8];
  const dx = (m[1] - cx * m[7]) / w;
  const dy = (m[4] - cy * m[7]) / w;
  return ((Math.atan2(-dy, dx) * 180) / Math.PI + 360) % 180;
}

function referenceTruth(placed: PlacedReference, camera: PinholeCamera): ReferenceTruth {
  // Where its marks are does not hang on its random surface.
  const surface = referenceSurface(placed, seededRandom(0));
  const [width, height] = surface.sizeMm;
  const laid = laidReference(placed, surface.sizeMm);
  const inPhoto = ([s, t]: Point): Point =>
    camera.photoFromCloth(...laid.clothFromOwn(s, t), placed.heightMm);
  const corners: Point[] = [
    [0, height],
    [width, height],
    [width, 0],
    [0, 0],
  ];
  return {
    type: placed.type,
    unit: surface.unit,
    length_mm: surface.lengthMm,
    ends_px: surface.ends.map(inPhoto),
    corners_px: corners.map(inPhoto),
    height_mm: placed.heightMm,
    apparent_gain: ((1 + (placed.stretch ?? 0)) * camera.heightMm) / (camera.heightMm - placed.heightMm),
  };
}

function seenInstances(
  table: EdgeTable,
  bandCount: number,
  view: ClothView,
  inPhoto: (u: number, v: number) => boolean,
): InstanceTruth[] {
  const instances: InstanceTruth[] = [];
  const { edgeCount, us, rowCount, vFromMm } = table;
  for (let edge = 0; edge + 1 < edgeCount; edge++) {
    if (us[edge + 1] < view.u[0] - 20 || us[edge] > view.u[1] + 20) continue;
    let rows = 0;
    let sum = 0;
    for (let row = 0; row < rowCount; row++) {
      const from = us[row * edgeCount + edge];
      const to = us[row * edgeCount + edge + 1];
      if (!inPhoto((from + to) / 2, vFromMm + row * EDGE_ROW_MM)) continue;
      rows++;
      sum += to - from;
    }
    if (rows * EDGE_ROW_MM < LEAST_VISIBLE_MM) continue;
    instances.push({
      repeat: table.repeatOfEdge[edge],
      band: table.bandOfEdge[edge] % bandCount,
      width_mm: sum / rows,
      visible_length_mm: rows * EDGE_ROW_MM,
    });
  }
  return instances;
}

function spread(widths: readonly number[]) {
  const seen = widths.length;
  if (seen === 0) return { width_mm_mean_visible: null, width_mm_sd_visible: null, seen };
  const mean = widths.reduce((sum, width) => sum + width, 0) / seen;
  const variance = widths.reduce((sum, width) => sum + (width - mean) ** 2, 0) / Math.max(1, seen - 1);
  return { width_mm_mean_visible: mean, width_mm_sd_visible: Math.sqrt(variance), seen };
}
