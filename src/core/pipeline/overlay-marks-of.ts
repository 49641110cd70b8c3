import type { StripeHints } from '../base/request.js';
import type { BandModel, Point } from '../model/band-model.js';
import { isInsidePolygon } from '../raster/fill-polygon.js';
import type { CameraPlane } from '../rectify/camera-plane.js';
import type { EdgePoints } from '../rectify/trace-edges.js';
import type { Reference } from '../reference/reference.js';
import type { OverlayMarks } from '../render/overlay-marks.js';
import { gridMarks } from './grid-marks.js';
import { printMarksOf } from './print-marks-of.js';
import { viewOfCloth } from './view-of-cloth.js';

type Instance = BandModel['instances'][number];

/** What to draw over the photo: everything in photo px (`photoPerPicture` photo px per picture px). */
export function overlayMarksOf(
  model: BandModel,
  camera: CameraPlane,
  bowPerMm: number,
  originUMm: number,
  edges: EdgePoints,
  reference: Reference,
  photoPerPicture: number,
  hints: StripeHints,
): OverlayMarks {
  const photo = (p: readonly [number, number]): Point => [p[0] * photoPerPicture, p[1] * photoPerPicture];
  const view = viewOfCloth(camera, bowPerMm, originUMm, photoPerPicture);
  const { photoFromCloth: at, alongAt: visible, reachMm } = view;
  const outline = reference.outline?.map(photo) ?? null;
  const lines: Point[][] = [];
  for (let e = 0; e < edges.edges; e++) {
    let line: Point[] = [];
    const close = () => {
      if (line.length > 1) lines.push(line);
      line = [];
    };
    for (let w = 0; w < edges.windows; w++) {
      const i = e * edges.windows + w;
      // Where the edge was not seen (under the ruler) no line is drawn.
      if (Number.isNaN(edges.x[i])) close();
      else line.push(photo([edges.x[i], edges.y[i]]));
    }
    close();
  }
  const labelV = ({ start_mm, end_mm }: Instance, level: number): number | null => {
    const seen = visible((start_mm + end_mm) / 2);
    // At the common level where the band passes there, else as near to it as it is seen.
    return seen === null ? null : Math.min(Math.max(level, seen[0] * 0.9), seen[1] * 0.9);
  };
  const labelAt = (instance: Instance, level: number): Point | null => {
    const v = labelV(instance, level);
    return v === null ? null : at((instance.start_mm + instance.end_mm) / 2, v);
  };
  const level = clearLevel(model, outline, reachMm, labelAt);
  const bandLabels = model.instances.flatMap((instance) => {
    const { band, start_mm, end_mm } = instance;
    const v = labelV(instance, level);
    if (v === null) return [];
    return [{ band, at: at((start_mm + end_mm) / 2, v), edges: [at(start_mm, v), at(end_mm, v)] as const }];
  });
  const isCovered = (startMm: number, acrossMm: number): boolean => {
    if (outline === null) return false;
    const seen = visible(startMm + acrossMm / 2);
    if (seen === null) return true;
    const levels = [0.2, 0.35, 0.5, 0.65, 0.8].map((share) => seen[0] + share * (seen[1] - seen[0]));
    return levels.filter((v) => isInsidePolygon(at(startMm + acrossMm / 2, v), outline)).length > 2;
  };
  const repeat = repeatOutline(model, visible, at, isCovered);
  return {
    referenceOutline: outline,
    ticks: reference.ticks.map((t) => ({ foot: photo(t.foot), tip: photo(t.tip), rank: t.rank })),
    ends: reference.ends ? [photo(reference.ends[0]), photo(reference.ends[1])] : null,
    edges: lines,
    bandLabels,
    repeatOutline: repeat?.outline ?? null,
    repeatDimension: repeat?.dimension ?? null,
    ...printMarksOf(model, at, visible, (u, v) => outline !== null && isInsidePolygon(at(u, v), outline)),
    ...gridMarks(model, view),
    ...givenMarks(hints, view.widthPx, view.heightPx),
  };
}

/** What a person gave: the region's outline, and a line through its middle in the direction given. */
function givenMarks(
  { region, directionDeg }: StripeHints,
  photoWidthPx: number,
  photoHeightPx: number,
): Pick<OverlayMarks, 'region' | 'direction'> {
  const { x, y, width, height } = region ?? { x: 0, y: 0, width: photoWidthPx, height: photoHeightPx };
  const reach = 0.3 * Math.min(width, height);
  const angle = ((directionDeg ?? 0) * Math.PI) / 180;
  const end = (way: number): Point => [
    x + width / 2 + way * reach * Math.cos(angle),
    y + height / 2 - way * reach * Math.sin(angle),
  ];
  return {
    region: region && [
      [x, y],
      [x + width, y],
      [x + width, y + height],
      [x, y + height],
    ],
    direction: directionDeg === null ? null : [end(-1), end(1)],
  };
}

/** The level along the stripes, as near the middle as may be, at which fewest labels would lie on the ruler. */
function clearLevel(
  model: BandModel,
  outline: readonly (readonly [number, number])[] | null,
  reachMm: number,
  labelAt: (instance: Instance, level: number) => Point | null,
): number {
  if (outline === null) return 0;
  let best = 0;
  let fewest = Infinity;
  for (const share of [0, 0.13, -0.13, 0.26, -0.26, 0.4, -0.4]) {
    const level = share * reachMm;
    const covered = model.instances.filter((instance) => {
      const place = labelAt(instance, level);
      return place !== null && isInsidePolygon(place, outline);
    }).length;
    if (covered < fewest) {
      fewest = covered;
      best = level;
    }
  }
  return best;
}

/** The whole repeat nearest the photo's middle that the ruler does not lie along: a strip along the stripes, and a line across it. */
function repeatOutline(
  model: BandModel,
  visible: (u: number) => [number, number] | null,
  at: (u: number, v: number) => Point,
  isCovered: (startMm: number, acrossMm: number) => boolean,
): { outline: Point[]; dimension: [Point, Point] } | null {
  const { across_mm } = model.repeat;
  const [first] = model.bands;
  if (across_mm === null || !first) return null;
  const starts = model.instances
    .filter((i) => i.band === first.id && visible(i.start_mm) && visible(i.start_mm + across_mm))
    .map((i) => i.start_mm);
  if (starts.length === 0) return null;
  const nearest = [...starts].sort((p, q) => Math.abs(p + across_mm / 2) - Math.abs(q + across_mm / 2));
  const start = nearest.find((u) => !isCovered(u, across_mm)) ?? nearest[0];
  const end = start + across_mm;
  const a = visible(start) as [number, number];
  const b = visible(end) as [number, number];
  const low = Math.max(a[0], b[0]);
  const high = Math.min(a[1], b[1]);
  // Enough points to follow a bow or the lens.
  const along = (u: number, from: number, to: number): Point[] =>
    Array.from({ length: 13 }, (_, i) => at(u, from + ((to - from) * i) / 12));
  const v = high > low ? low + 0.42 * (high - low) : 0;
  return {
    outline: [...along(start, a[0], a[1]), ...along(end, b[1], b[0])],
    dimension: [at(start, v), at(end, v)],
  };
}
