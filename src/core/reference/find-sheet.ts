import { type Outcome, refuse, succeed } from '../base/outcome.js';
import type { SheetSize } from '../base/request.js';
import type { Point } from '../math/matrix3.js';
import { focalLength } from '../raster/focal-length.js';
import { halve } from '../raster/halve.js';
import { labOf } from '../raster/lab-of.js';
import type { Photo } from '../raster/photo.js';
import type { Raster } from '../raster/raster.js';
import { amongRivals, best, closeLook, type FoundSheet } from './close-look.js';
import { type ColourEdges, colourEdges } from './colour-edges.js';
import { type EdgeLine, edgeLines, edgesBesideStripes } from './edge-lines.js';
import { whiteness } from './paper-white.js';
import { runsThrough } from './runs-through.js';
import { type SheetQuad, sheetQuads } from './sheet-quads.js';
import { type SheetSpec, sheetSpecs } from './sheet-sizes.js';

/** The search runs on a copy no longer than this, px: enough for a card an eighth of the picture wide. */
const searchPx = 1400;
/** How far off a side may be, px of the search copy: a stripe this near to the sheet can hide its own edge there. */
const roughPx = 5.5;
/** How much is asked of one look. */
interface Effort {
  /** The strongest lines alone: time grows with the third power of their number. */
  readonly lines: number;
  /** Of stripes as fine as a check's, hundreds of quadrilaterals look like a sheet; what is none of the best is none. */
  readonly quads: number;
  /** So many of the best are looked at at full size. */
  readonly closely: number;
  /** Only what leaves no doubt is a sheet. */
  readonly surely: boolean;
}
const firstLook: Effort = { lines: Number.POSITIVE_INFINITY, quads: 100, closely: 6, surely: false };
/** Further looks find less and less, and more and more of it is chance. */
const furtherLook: Effort = { lines: 80, quads: 30, closely: 3, surely: true };
/** Where nobody said that a sheet is in view, chance must have none. */
const unaskedLook: Effort = { lines: 80, quads: 30, closely: 3, surely: true };
/** A quadrilateral scored under this has too little of a sheet about it. */
const leastScore = 0.52;
/**
 * What lies outside a sheet's sides does not go on inside: see runsThrough. A card's own print may keep step with bands beside it by
 * chance; then its sides must leave no doubt.
 */
const mostThrough = 0.15;
const mostThroughIfSure = 0.35;
const leastScoreIfSure = 0.75;
/** Seen along this much of its sides, and this near to the sheet's shape, there is no need to look at others. */
const surelySeen = 0.95;
const surelyShaped = 0.004;
/** A focal length that the photo does not tell makes a shape seem so many times further off. */
const unknownFocal = 2.5;

/**
 * Finds a plain sheet of paper or a card of known size lying on striped cloth, at any angle, from its four straight
 * sides: lines of a picture's edges whose crossings have the shape of the sheet as a camera held over it would show it.
 * Sides then are fitted at full resolution and the corners are where they meet, so that round or bent corners do no harm.
 */
export function findSheet(photo: Photo, size: SheetSize): Outcome<FoundSheet> {
  const spec = sheetSpecs[size];
  const { picture } = photo;
  const copies = [picture];
  while (Math.max(copies[0].width, copies[0].height) > searchPx) copies.unshift(halve(copies[0]));
  // Fine bands run together in the small copy: where nothing is found there, one of twice its size is searched.
  for (const [i, copy] of copies.slice(0, 2).entries()) {
    const found = sheetIn(seenIn(copy), photo, spec, i === 0 ? firstLook : furtherLook);
    if (found !== null) return succeed(found);
  }
  return refuse(
    'no-scale',
    `No ${spec.name.replace(/^an? /, '')} found`,
    'lay it flat with all four sides in view and cloth of another colour round it, or give its corners',
    ['corners'],
  );
}

/** A sheet or card that nobody told of. */
export interface UnaskedSheet {
  readonly size: SheetSize;
  readonly sheet: FoundSheet;
}

/**
 * Sheets and cards that leave no doubt, largest first, in a photo of which nobody said that it shows one: four sides seen all along, in the
 * shape of a standard size to less than a hundredth. One look at the small copy of the picture.
 */
export function unaskedSheets(photo: Photo): UnaskedSheet[] {
  const sizes: readonly SheetSize[] = ['a4', 'letter', 'id1'];
  let copy = photo.picture;
  while (Math.max(copy.width, copy.height) > searchPx) copy = halve(copy);
  const seen = seenIn(copy);
  return sizes.flatMap((size) => {
    const sheet = sheetIn(seen, photo, sheetSpecs[size], unaskedLook);
    return sheet === null ? [] : [{ size, sheet }];
  });
}

/** What is asked of a copy of the picture whatever is looked for in it. */
interface Seen {
  readonly lab: Raster<Float32Array>;
  readonly edges: ColourEdges;
}

function seenIn(small: Raster<Uint8Array>): Seen {
  const lab = labOf(small);
  return { lab, edges: colourEdges(lab) };
}

/** The sheet as lines of a smaller copy of the picture show it; first all lines, then those beside the stripes. */
function sheetIn({ lab, edges }: Seen, photo: Photo, spec: SheetSpec, effort: Effort): FoundSheet | null {
  const { width, height } = lab;
  const leastSidePx = Math.max(24, Math.max(width, height) * spec.leastOfPicture);
  const leastEdgePx = Math.floor(0.5 * leastSidePx);
  const lines = edgeLines(edges, leastEdgePx);
  const paper = spec.plain ? whiteness(lab) : () => true;
  const among = (some: readonly EdgeLine[], seen: ColourEdges, own: Effort): FoundSheet | null => {
    const focalPx = focalLength(photo.focal35Mm, width, height).focalPx;
    const quads = sheetQuads(some.slice(0, own.lines), seen, { spec, focalPx, leastSidePx });
    return bestOf(quads.slice(0, own.quads), own, photo, spec, lab, paper);
  };
  const found = among(lines, edges, effort);
  if (found !== null) return found;
  const beside = edgesBesideStripes(edges, lines);
  return among(edgeLines(beside, leastEdgePx), beside, furtherLook);
}

function bestOf(
  quads: readonly SheetQuad[],
  { closely, surely }: Effort,
  photo: Photo,
  spec: SheetSpec,
  lab: Raster<Float32Array>,
  paper: ReturnType<typeof whiteness>,
): FoundSheet | null {
  const pictureFromSmall = Math.round(photo.picture.width / lab.width);
  const sheets: FoundSheet[] = [];
  let looks = 0;
  for (const { pose, score } of quads) {
    if (score < leastScore || looks === closely || sheets.some((sheet) => isSure(sheet))) break;
    if (!paper(pose.corners)) continue;
    const through = runsThrough(lab, pose.corners);
    const doubted = surely || through > mostThrough;
    if (through > mostThroughIfSure || (through > mostThrough && score < leastScoreIfSure)) continue;
    looks++;
    const rough = pose.corners.map((p): Point => [p[0] * pictureFromSmall, p[1] * pictureFromSmall]);
    const found = closeLook(photo, spec, rough, roughPx * pictureFromSmall);
    if (found === null || (doubted && !isSure(found, photo.focal35Mm === null ? unknownFocal : 1))) continue;
    sheets.push(found);
  }
  const found = best(sheets);
  return found && amongRivals(found, sheets);
}

const isSure = ({ seen, misfit }: FoundSheet, allowance = 1): boolean =>
  seen > surelySeen && misfit < allowance * surelyShaped;
