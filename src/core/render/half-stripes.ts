import { type ClothPattern, wrap } from '../model/cloth-pattern.js';
import { clothFromGarment, type HalfOnCloth } from '../model/half-on-cloth.js';
import type { SeamMatch } from '../seam/seam-match.js';
import { pictureFromGarment, type SeamFrame } from './seam-frame.js';
import { polygon } from './svg.js';

type Corner = readonly [number, number];

/** Both halves as polygons, one a band, in the model's colours. */
export function stripesSvg(match: SeamMatch, frame: SeamFrame): string {
  const w = frame.halfWidthMm;
  const l = frame.seamMm;
  const left: Corner[] = [
    [-w, 0],
    [0, 0],
    [0, l],
    [-w, l],
  ];
  const right: Corner[] = left.map(([x, y]) => [x === 0 ? 0 : w, y]);
  const place = (x: number, y: number): [number, number] => pictureFromGarment(frame, x, y);
  return (
    stripedShape(match.pattern, match.left, left, place) +
    stripedShape(match.pattern, match.right, right, place)
  );
}

/**
 * A convex garment shape filled with its stripes. Each band is painted from its lower edge to the far end
 * and the next one over it, so that no hairline of background shows between neighbours.
 */
export function stripedShape(
  pattern: ClothPattern,
  half: HalfOnCloth,
  shape: readonly Corner[],
  place: (x: number, y: number) => [number, number],
): string {
  const u = ([x, y]: Corner): number => clothFromGarment(half, x, y)[0] - pattern.originUMm;
  const us = shape.map(u);
  const lowest = Math.min(...us);
  const highest = Math.max(...us);
  const n = pattern.bands.length;
  let k = Math.floor(lowest / pattern.repeatMm) * n;
  const startOf = (j: number): number =>
    Math.floor(j / n) * pattern.repeatMm + pattern.bands[wrap(j, n)].startMm;
  while (startOf(k + 1) <= lowest) k++;
  let svg = '';
  for (; startOf(k) < highest; k++) {
    const rest = above(shape, (corner) => u(corner) - startOf(k));
    if (rest.length > 2) {
      svg += polygon(
        rest.map(([x, y]) => place(x, y)),
        { fill: pattern.bands[wrap(k, n)].srgb },
      );
    }
  }
  return svg;
}

/** The part of a convex shape where a linear function is >= 0 (Sutherland and Hodgman 1974, doi 10.1145/360767.360802). */
export function above(shape: readonly Corner[], height: (corner: Corner) => number): Corner[] {
  const kept: Corner[] = [];
  shape.forEach((corner, i) => {
    const next = shape[(i + 1) % shape.length];
    const [a, b] = [height(corner), height(next)];
    if (a >= 0) kept.push(corner);
    if (a >= 0 !== b >= 0) {
      const t = a / (a - b);
      kept.push([corner[0] + t * (next[0] - corner[0]), corner[1] + t * (next[1] - corner[1])]);
    }
  });
  return kept;
}
