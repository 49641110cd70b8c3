import { type Outcome, refuse, succeed } from '../base/outcome.js';
import type { SheetSize } from '../base/request.js';
import type { Point } from '../math/matrix3.js';
import { focalLength } from '../raster/focal-length.js';
import { halve } from '../raster/halve.js';
import { labOf } from '../raster/lab-of.js';
import type { Photo } from '../raster/photo.js';
import { closeLook, type FoundSheet, merit } from './close-look.js';
import { colourEdges } from './colour-edges.js';
import { edgeLines } from './edge-lines.js';
import { whiteness } from './paper-white.js';
import { runsThrough } from './runs-through.js';
import { sheetQuads } from './sheet-quads.js';
import { sheetSpecs } from './sheet-sizes.js';

/** The search runs on a copy no longer than this, px: enough for a card an eighth of the picture wide. */
const searchPx = 1400;
/** How far off a side may be, px of the search copy: a stripe this near to the sheet can hide its own edge there. */
const roughPx = 5.5;
/** So many of the best quadrilaterals are looked at closely. */
const tried = 6;
/** A quadrilateral scored under this has too little of a sheet about it. */
const leastScore = 0.52;
/**
 * What lies outside a sheet's sides does not go on inside: see runsThrough. A card's own print may keep step with bands beside it by
 * chance; then its sides must leave no doubt.
 */
const mostThrough = 0.15;
const mostThroughIfSure = 0.28;
const leastScoreIfSure = 0.75;
/** Seen along this much of its sides, and this near to the sheet's shape, there is no need to look at others. */
const surelySeen = 0.95;
const surelyShaped = 0.004;
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
    focalPx: focalLength(photo.focal35Mm, small.width, small.height).focalPx,
    leastSidePx,
  });
  const paper = spec.plain ? whiteness(lab) : () => true;
  let best: FoundSheet | null = null;
  let looks = 0;
  for (const { pose, score } of quads) {
    if (score < leastScore || looks === tried || isSure(best)) break;
    if (!paper(pose.corners)) continue;
    const through = runsThrough(lab, pose.corners);
    const doubted = through > mostThrough;
    if (doubted && (through > mostThroughIfSure || score < leastScoreIfSure)) continue;
    looks++;
    const rough = pose.corners.map((p): Point => [p[0] * pictureFromSmall, p[1] * pictureFromSmall]);
    const found = closeLook(photo, spec, rough, roughPx * pictureFromSmall);
    if (found === null || (doubted && !isSure(found))) continue;
    if (best === null || merit(found) > merit(best)) best = found;
  }
  if (best !== null) return succeed(best);
  return refuse(
    'no-scale',
    `No ${spec.name.replace(/^an? /, '')} found`,
    'lay it flat with all four sides in view and cloth of another colour round it, or give its corners with --corners',
  );
}

const isSure = (found: FoundSheet | null): boolean =>
  found !== null && found.seen > surelySeen && found.misfit < surelyShaped;
