import { type Outcome, refuse, succeed } from '../base/outcome.js';
import type { Point } from '../math/matrix3.js';
import { median, quantile } from '../math/robust.js';
import { fillPolygon } from '../raster/fill-polygon.js';
import { halve } from '../raster/halve.js';
import type { Raster } from '../raster/raster.js';
import { hiddenPlaces } from './ground/hide-things.js';
import { localBorder } from './ground/local-border.js';
import { filledRegion, type Region, type Regions, regionsOf } from './ground/regions.js';
import { FRAME, type GroundSought, splitGround } from './ground/split-ground.js';
import { borderLine } from './outline/border-line.js';
import { type EdgePlace, followEdge } from './outline/follow-edge.js';

/** The rough search runs on a copy no longer than this, px. */
const ROUGH_PX = 700;
/** The border is drawn anew on copies up to this long, px, each twice the one before. */
const LOCAL_PX = 1300;
/** Shadow and thickness beside a ruler or sheet that are neither paper nor ground, mm: to learn colours by, and where paper may lie close by. */
const MARGIN_MM = 1.5;
const CLOSE_MM = 0.8;
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
  /** How much of that edge runs along something that lies about, mm: it may lie over the paper. */
  readonly coveredMm: number;
}

/**
 * Every piece of paper in a picture, its edge followed at full size. `things`: what lies about that is no paper of the pattern, polygons in
 * picture px. Refuses a picture without paper, and one that shows a piece in part.
 */
export function findPaper(
  picture: Raster<Uint8Array>,
  things: readonly (readonly Point[])[],
  pxPerMm: number,
): Outcome<readonly FoundPaper[]> {
  const copies = [picture];
  while (Math.max(copies[0].width, copies[0].height) > ROUGH_PX) copies.unshift(halve(copies[0]));
  const scene: Scene = { copies, things, pxPerMm };
  // Paper lies wholly in the picture, so what is on the frame is ground, boards of any tone and shadows too.
  const whole = looked(scene, 'framed');
  if (whole.found.length > 0 && !whole.cut) return succeed(whole.found);
  // Where that fails paper may run out of the picture; or its colour shows on the frame by chance.
  const any = looked(scene, 'rim');
  if (any.found.length > 0 && !any.cut) return succeed(any.found);
  // A piece of which half is out of the picture has as much of the rim as of the picture, but on one side.
  const isCut = any.cut || whole.cut || looked(scene, 'round').cut;
  return isCut ? cutOff(any.found.length > 0) : noPaper();
}

const cutOff = (amongOthers: boolean): Outcome<never> =>
  refuse(
    'cut-off',
    amongOthers ? 'One piece of paper runs out of the picture' : 'The piece of paper runs out of the picture',
    'step back until the whole piece is in view, with some of the table all round it',
  );

interface Scene {
  /** The rough copy first, each twice the size of the one before, the picture last. */
  readonly copies: readonly Raster<Uint8Array>[];
  readonly things: readonly (readonly Point[])[];
  readonly pxPerMm: number;
}

interface Look {
  readonly found: readonly FoundPaper[];
  /** Whether paper runs out of the picture. */
  readonly cut: boolean;
}

function looked(scene: Scene, ground: GroundSought): Look {
  const { copies, things, pxPerMm } = scene;
  const [rough] = copies;
  const perRough = 2 ** (copies.length - 1);
  const hidden = hiddenPlaces(rough.width, rough.height, perRough, things, MARGIN_MM * pxPerMm);
  const { paper } = splitGround(rough, copies[Math.min(2, copies.length - 1)], hidden, ground);
  const solid = Uint8Array.from(paper, (v, i) => (v > 0.5 && !hidden[i] ? 1 : 0));
  const seen = regionsOf(solid, rough.width, rough.height);
  const found: FoundPaper[] = [];
  let cut = false;
  for (const { region, mask } of paperRegions(seen, pxPerMm / perRough, rough.width, rough.height)) {
    const others = Uint8Array.from(solid, (v, i) => v & (1 - mask[i]));
    const edge = edgeOfRegion(scene, mask, others, region);
    if (edge === null) continue;
    const sharp = edge.map(({ sharpness }) => sharpness);
    if (median(sharp) < LEAST_SHARP || quantile(sharp, 0.15) < 0.3 * LEAST_SHARP) continue;
    if (region.onFrame > 0 || (ground === 'framed' && nearFrame(region, rough))) cut = true;
    else found.push({ edge, coveredMm: coveredMm(scene, edge) });
  }
  return { found, cut };
}

/** Along how much of an edge things lie against it, mm. */
function coveredMm({ copies, things, pxPerMm }: Scene, edge: readonly EdgePlace[]): number {
  const { width, height } = copies[copies.length - 1];
  const near = hiddenPlaces(width, height, 1, things, AGAINST_MM * pxPerMm);
  let px = 0;
  edge.forEach(({ at: [x, y] }, k) => {
    const [nx, ny] = edge[(k + 1) % edge.length].at;
    if (near[Math.floor(y) * width + Math.floor(x)] === 1) px += Math.hypot(nx - x, ny - y);
  });
  return px / pxPerMm;
}

/** No gap is seen between two things nearer to one another than this, mm. */
const AGAINST_MM = 1.6;

const nearFrame = ({ box }: Region, { width, height }: Raster<Uint8Array>): boolean =>
  box[0] <= FRAME + 1 || box[1] <= FRAME + 1 || box[2] >= width - FRAME - 1 || box[3] >= height - FRAME - 1;

/** The region's edge at full size: its border drawn anew on finer copies, one after another, then followed. */
function edgeOfRegion(
  { copies, things, pxPerMm }: Scene,
  mask: Uint8Array,
  others: Uint8Array,
  region: Region,
): EdgePlace[] | null {
  const picture = copies[copies.length - 1];
  let [inside, apart, width] = [mask, others, copies[0].width];
  let box = region.box;
  let line: Point[] | null = null;
  let perCopy = 2 ** (copies.length - 1);
  for (const copy of copies.slice(1)) {
    if (line !== null && Math.max(copy.width, copy.height) > LOCAL_PX) break;
    perCopy /= 2;
    const covered = hiddenPlaces(copy.width, copy.height, perCopy, things, CLOSE_MM * pxPerMm);
    const beside = doubled(apart, width, copy);
    const blocked = covered.map((v, i) => v | beside[i]);
    const patch = localBorder(copy, inside, blocked, width, box);
    const border = borderLine(patch.paper, patch.width, patch.height);
    if (border === null) return null;
    line = border.map(([x, y]): Point => [(patch.x0 + x) * perCopy, (patch.y0 + y) * perCopy]);
    inside = new Uint8Array(copy.width * copy.height);
    fillPolygon(
      inside,
      copy.width,
      copy.height,
      border.map(([x, y]): Point => [patch.x0 + x, patch.y0 + y]),
      1,
    );
    box = [patch.x0, patch.y0, patch.x0 + patch.width, patch.y0 + patch.height];
    [apart, width] = [beside, copy.width];
  }
  if (line === null) return null;
  const blocked = hiddenPlaces(picture.width, picture.height, 1, things, CLOSE_MM * pxPerMm);
  return followEdge(picture, line, Math.max(6, 2.5 * perCopy), blocked);
}

/** A mask for a copy of twice the size. */
function doubled(mask: Uint8Array, width: number, copy: Raster<Uint8Array>): Uint8Array {
  const rows = mask.length / width;
  const out = new Uint8Array(copy.width * copy.height);
  for (let y = 0, i = 0; y < copy.height; y++) {
    const row = Math.min(rows - 1, y >> 1) * width;
    for (let x = 0; x < copy.width; x++, i++) out[i] = mask[row + Math.min(width - 1, x >> 1)];
  }
  return out;
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
