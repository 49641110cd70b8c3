import { convexHull } from '../../math/convex-hull.js';
import type { Point } from '../../math/matrix3.js';
import { erodeMask } from '../../raster/erode-mask.js';
import { halve } from '../../raster/halve.js';
import type { Raster } from '../../raster/raster.js';
import { borderLine } from '../outline/border-line.js';
import { filledRegion, regionsOf } from './regions.js';
import { splitGround } from './split-ground.js';

/** The search runs on a copy no longer than this, px. */
const ROUGH_PX = 700;
/** Smaller parts of the picture show no sheet or card well enough to measure by. */
const LEAST_PART = 0.002;
/** Of region, hull and quadrilateral each has so much of the other: a card's corners are round, and the quadrilateral between them is smaller. */
const LEAST_FILL = 0.87;
/** Corners of a hull that are tried, at most. */
const MOST_CORNERS = 20;

/**
 * What stands out from the ground and has four corners, largest first: sheets and cards among them. Picture px, in order round.
 */
export function paperQuads(picture: Raster<Uint8Array>): Point[][] {
  const copies = [picture];
  while (Math.max(copies[0].width, copies[0].height) > ROUGH_PX) copies.unshift(halve(copies[0]));
  const [rough] = copies;
  const { width, height } = rough;
  const hidden = new Uint8Array(width * height);
  const { paper } = splitGround(rough, copies[Math.min(2, copies.length - 1)], hidden, 'framed');
  const solid = closed(
    Uint8Array.from(paper, (v) => (v > 0.5 ? 1 : 0)),
    width,
    height,
  );
  const { labels, regions } = regionsOf(solid, width, height);
  const perRough = picture.width / width;
  return regions
    .filter(({ area }) => area > LEAST_PART * width * height)
    .flatMap(({ label }) => {
      const mask = filledRegion(labels, label, width, height);
      const area = mask.reduce((sum, v) => sum + v, 0);
      const line = borderLine(Float32Array.from(mask), width, height);
      const quad = line === null ? null : quadOf(line, area);
      return quad === null ? [] : [quad.map(([x, y]): Point => [x * perRough, y * perRough])];
    });
}

/** A card may have a stripe as dark as the ground: gaps of up to twice this are filled, px of the rough copy. */
const CLOSE_PX = 3;

function closed(solid: Uint8Array, width: number, height: number): Uint8Array {
  const bare = solid.map((v) => 1 - v);
  const grown = erodeMask(bare, width, height, CLOSE_PX).map((v) => 1 - v);
  return erodeMask(grown, width, height, CLOSE_PX);
}

/** The four corners of a line's hull that enclose most, where that is nearly all of the hull and of the area. */
function quadOf(line: readonly Point[], area: number): Point[] | null {
  const hull = thinned(convexHull(line));
  const n = hull.length;
  let best: Point[] | null = null;
  let most = 0;
  for (let a = 0; a < n; a++)
    for (let b = a + 1; b < n; b++)
      for (let c = b + 1; c < n; c++)
        for (let d = c + 1; d < n; d++) {
          const quad = [hull[a], hull[b], hull[c], hull[d]];
          const own = areaOf(quad);
          if (own > most) [most, best] = [own, quad];
        }
  if (best === null || most < LEAST_FILL * areaOf(hull)) return null;
  return area > LEAST_FILL * most && most > LEAST_FILL * area ? best : null;
}

const areaOf = (polygon: readonly Point[]): number =>
  Math.abs(
    polygon.reduce((sum, [x, y], k) => {
      const [u, v] = polygon[(k + 1) % polygon.length];
      return sum + x * v - y * u;
    }, 0) / 2,
  );

/** The corner whose loss takes least off the hull goes first. */
function thinned(hull: readonly Point[]): Point[] {
  const kept = [...hull];
  while (kept.length > MOST_CORNERS) {
    let [least, at] = [Number.POSITIVE_INFINITY, 0];
    kept.forEach((p, k) => {
      const lost = areaOf([kept[(k + kept.length - 1) % kept.length], p, kept[(k + 1) % kept.length]]);
      if (lost < least) [least, at] = [lost, k];
    });
    kept.splice(at, 1);
  }
  return kept;
}
