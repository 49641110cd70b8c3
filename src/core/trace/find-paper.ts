import { type Outcome, refuse, succeed } from '../base/outcome.js';
import type { Point } from '../math/matrix3.js';
import { median, quantile } from '../math/robust.js';
import { halve } from '../raster/halve.js';
import type { Raster } from '../raster/raster.js';
import { hiddenPlaces } from './ground/hide-things.js';
import { localBorder } from './ground/local-border.js';
import { filledRegion, type Region, type Regions, regionsOf } from './ground/regions.js';
import { splitGround } from './ground/split-ground.js';
import { borderLine } from './outline/border-line.js';
import { type EdgePlace, followEdge } from './outline/follow-edge.js';

/** The rough search runs on a copy no longer than this, px. */
const ROUGH_PX = 520;
/** Shadow and thickness beside a ruler or sheet that are neither paper nor ground, mm: paper may lie close by. */
const MARGIN_MM = 1.5;
/** The least piece of a pattern: a collar stand is no smaller, mm2. */
const LEAST_MM2 = 1500;
/** Other things on the table are smaller than this part of the largest piece. */
const LEAST_PART = 0.08;
/** What is narrower than this anywhere is a strip of shadow, mm. */
const LEAST_WIDE_MM = 10;
/** Half of a piece's edge is at least this sharp: light that fades over the table is no paper. */
const LEAST_SHARP = 0.28;

/** One piece of paper in the picture. */
export interface FoundPaper {
  /** Along its edge, clockwise on the screen, picture px. */
  readonly edge: readonly EdgePlace[];
}

/**
 * Every piece of paper in a picture, its edge followed at full size. `things`: what lies about that is no paper of the pattern, polygons in
 * picture px. Refuses a picture without paper, and one that shows a piece in part.
 */
export function findPaper(
  picture: Raster<Uint8Array>,
  things: readonly (readonly Point[])[],
  pxPerMm: number,
): Outcome<FoundPaper[]> {
  const copies = [picture];
  while (Math.max(copies[0].width, copies[0].height) > ROUGH_PX) copies.unshift(halve(copies[0]));
  const rough = copies[0];
  const perRough = 2 ** (copies.length - 1);
  const marginPx = MARGIN_MM * pxPerMm;
  const hidden = hiddenPlaces(rough.width, rough.height, perRough, things, marginPx);
  const { paper } = splitGround(rough, copies[Math.min(2, copies.length - 1)], hidden);
  const inside = paper.map((v) => (v > 0.5 ? 1 : 0)) as unknown as Uint8Array;
  const solid = Uint8Array.from(inside, (v, i) => (hidden[i] ? 0 : v));
  const seen = regionsOf(solid, rough.width, rough.height);
  const roughPerMm = pxPerMm / perRough;
  const chosen = paperRegions(seen, roughPerMm, rough.width, rough.height);
  if (chosen.length === 0) return noPaper();
  const found: FoundPaper[] = [];
  const cut: Region[] = [];
  for (const { region, mask } of chosen) {
    const others = hidden.map((v, i) => (v || (solid[i] && !mask[i]) ? 1 : 0)) as unknown as Uint8Array;
    const finer = copies[Math.min(1, copies.length - 1)];
    const patch = localBorder(finer, mask, others, rough.width, region.box);
    const line = borderLine(patch.paper, patch.width, patch.height);
    if (line === null) continue;
    const perFiner = perRough / 2;
    const inPicture = line.map(([x, y]): Point => [(patch.x0 + x) * perFiner, (patch.y0 + y) * perFiner]);
    const edge = followEdge(picture, inPicture, 2.5 * perFiner);
    const sharp = edge.map(({ sharpness }) => sharpness);
    if (median(sharp) < LEAST_SHARP || quantile(sharp, 0.15) < 0.3 * LEAST_SHARP) continue;
    if (region.onFrame > 0) cut.push(region);
    else found.push({ edge });
  }
  if (cut.length > 0) {
    return refuse(
      'cut-off',
      found.length + cut.length > 1
        ? 'One piece of paper runs out of the picture'
        : 'The piece of paper runs out of the picture',
      'step back until the whole piece is in view, with some of the table all round it',
    );
  }
  return found.length === 0 ? noPaper() : succeed(found);
}

/** The refusal of a picture without paper. */
export const noPaper = (): Outcome<never> =>
  refuse(
    'no-paper',
    'No piece of paper found that stands out from what it lies on',
    'lay it on something plainly darker, lighter or of another colour, in even light',
  );

/** Regions that are large and thick enough for a piece of a pattern, with their holes filled. */
function paperRegions(
  { labels, regions }: Regions,
  roughPerMm: number,
  width: number,
  height: number,
): { region: Region; mask: Uint8Array }[] {
  const largest = regions[0]?.area ?? 0;
  return regions
    .filter(({ area }) => area > LEAST_MM2 * roughPerMm ** 2 && area > LEAST_PART * largest)
    .map((region) => ({ region, mask: filledRegion(labels, region.label, width, height) }))
    .filter(({ mask, region }) => 2 * thickness(mask, width, region) > LEAST_WIDE_MM * roughPerMm);
}

/** Greatest distance of a place of the region to outside it, px, by rows and columns (the larger of both would be too kind to strips). */
function thickness(mask: Uint8Array, width: number, { box }: Region): number {
  let best = 0;
  const up = new Int32Array(width);
  for (let y = box[1]; y < box[3]; y++) {
    let run = 0;
    for (let x = box[0]; x < box[2]; x++) {
      const i = y * width + x;
      up[x] = mask[i] ? up[x] + 1 : 0;
      run = mask[i] ? run + 1 : 0;
      best = Math.max(best, Math.min(run, up[x]) / 2);
    }
  }
  return best;
}
