import { type Outcome, refuse, succeed } from '../base/outcome.js';
import type { SheetSize } from '../base/request.js';
import type { Point } from '../math/matrix3.js';
import { median, quantile } from '../math/robust.js';
import { halve } from '../raster/halve.js';
import { labOf } from '../raster/lab-of.js';
import type { Photo } from '../raster/photo.js';
import type { Raster } from '../raster/raster.js';
import { colourEdges } from './colour-edges.js';
import { edgeLines } from './edge-lines.js';
import { type FittedSide, fitSide, sideCrossing } from './fit-side.js';
import { runsThrough } from './runs-through.js';
import { focalPxOf, placeWithin, type SheetPose, sheetPose } from './sheet-pose.js';
import { sheetQuads } from './sheet-quads.js';
import { type SheetSpec, sheetSpecs } from './sheet-sizes.js';

export interface FoundSheet {
  /** Picture px, clockwise as seen, the first two at the ends of a long side; where the sides meet, were they sharp. */
  readonly corners: readonly [Point, Point, Point, Point];
  /** Standard deviation of a corner along either axis, picture px. */
  readonly cornerSdPx: number;
  /** Share of the sides' length along which the edge was seen, 0..1. */
  readonly seen: number;
}

/** The search runs on a copy no longer than this, px: enough for a card an eighth of the picture wide. */
const searchPx = 1200;
/** So many of the best quadrilaterals are looked at closely. */
const tried = 6;
/** A quadrilateral scored under this has too little of a sheet about it. */
const leastScore = 0.55;
/** What lies outside a sheet's sides does not go on inside: its changes of colour correlate by no more than this. */
const mostThrough = 0.22;
/** Seen along this much of its sides there is no need to look at others. */
const surelySeen = 0.9;
/** Each side must be seen along this much of it, and all four along this much in the mean. */
const leastSeen = 0.5;
const leastMeanSeen = 0.8;
/** Shape against the sheet's after the close look: paper's own tolerance, the lens, and a focal length not known. */
const mostMisfit = 0.04;
/** Shadows beside the sheet and bent paper move corners by about this, whatever the number of places. */
const leastCornerSdPx = 0.25;

/**
 * Finds a plain sheet of paper or a card of known size lying on striped cloth, at any angle, from its four straight
 * sides: lines of a picture's edges whose crossings have the shape of the sheet as a camera held over it would show it.
 * Sides then are fitted at full resolution and the corners are where they meet, so that round or bent corners do no harm.
 */
export function findSheet(photo: Photo, size: SheetSize): Outcome<FoundSheet> {
  const spec = sheetSpecs[size];
  const { picture } = photo;
  let small = picture;
  while (Math.max(small.width, small.height) > searchPx) small = halve(small);
  const pictureFromSmall = Math.round(picture.width / small.width);
  const lab = labOf(small);
  const edges = colourEdges(lab);
  const leastSidePx = Math.max(24, Math.max(small.width, small.height) * spec.leastOfPicture);
  const quads = sheetQuads(edgeLines(edges, Math.floor(0.5 * leastSidePx)), edges, {
    spec,
    focalPx: focalPxOf(small.width, small.height, photo.focal35Mm),
    leastSidePx,
  });
  const paper = spec.plain ? whiteness(lab) : () => true;
  let best: FoundSheet | null = null;
  let looks = 0;
  for (const { pose, score } of quads) {
    if (score < leastScore || looks === tried || (best !== null && best.seen > surelySeen)) break;
    if (!paper(pose.corners) || runsThrough(lab, pose.corners) > mostThrough) continue;
    looks++;
    const rough = pose.corners.map((p) => [p[0] * pictureFromSmall, p[1] * pictureFromSmall] as const);
    const found = closeLook(picture, rough as unknown as SheetPose['corners'], spec, photo, pictureFromSmall);
    if (found !== null && (best === null || found.seen > best.seen)) best = found;
  }
  if (best !== null) return succeed(best);
  return refuse(
    'no-scale',
    `No ${spec.name.replace(/^an? /, '')} found`,
    'lay it flat with all four sides in view and cloth of another colour round it, or give its corners with --corners',
  );
}

/** White under any light of a room: no more chroma than this, and no darker than the middle of the picture. */
const mostChroma = 34;

/** Tells whether what four corners enclose could be white paper, in the light of the whole picture. */
function whiteness(lab: Raster<Float32Array>): (corners: SheetPose['corners']) => boolean {
  const { width, data } = lab;
  const lightness = median(
    Float32Array.from({ length: Math.floor(data.length / 51) }, (_, i) => data[51 * i]),
  );
  return (corners) => {
    const inside: [number, number][] = [];
    for (let j = 1; j < 16; j++) {
      for (let i = 1; i < 16; i++) {
        const [x, y] = placeWithin(corners, i / 16, j / 16);
        const p = 3 * (Math.floor(y) * width + Math.floor(x));
        inside.push([data[p], Math.hypot(data[p + 1], data[p + 2])]);
      }
    }
    // Three quarters up: part of the sheet may lie in shadow.
    return (
      quantile(
        inside.map(([l]) => l),
        0.75,
      ) >= lightness && median(inside.map(([, chroma]) => chroma)) <= mostChroma
    );
  };
}

/** The four sides at full resolution: twice, since the second look starts from a side already straightened. */
function closeLook(
  picture: Raster<Uint8Array>,
  rough: SheetPose['corners'],
  spec: SheetSpec,
  photo: Photo,
  pictureFromSmall: number,
): FoundSheet | null {
  let corners: readonly Point[] = rough;
  let sides: FittedSide[] = [];
  for (const reach of [Math.max(4, 3.5 * pictureFromSmall), 4]) {
    const fitted = corners.map((from, k) => {
      const sideMm = k % 2 === 0 ? spec.longMm : spec.shortMm;
      return fitSide(picture, from, corners[(k + 1) % 4], 0.02 + (1.3 * spec.cornerMm) / sideMm, reach);
    });
    sides = fitted.filter((side) => side !== null);
    if (sides.length < 4) return null;
    const met = corners.map((guess, k) => sideCrossing(sides[(k + 3) % 4], sides[k], guess));
    const next = met.filter((p) => p !== null);
    if (next.length < 4) return null;
    corners = next;
  }
  const seen = sides.reduce((sum, side) => sum + side.seen, 0) / 4;
  if (seen < leastMeanSeen || sides.some((side) => side.seen < leastSeen)) return null;
  const pose = sheetPose(corners, spec, focalPxOf(picture.width, picture.height, photo.focal35Mm), [
    picture.width / 2,
    picture.height / 2,
  ]);
  if (pose === null || Math.abs(pose.sideMisfit) > mostMisfit || Math.abs(pose.squareMisfit) > mostMisfit) {
    return null;
  }
  const cornerSdPx = Math.max(leastCornerSdPx, ...sides.map((side) => side.endSdPx));
  return { corners: pose.corners, cornerSdPx, seen };
}
