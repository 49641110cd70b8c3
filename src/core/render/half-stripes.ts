import { type ClothPattern, wrap } from '../model/cloth-pattern.js';
import { clothFromGarment, type HalfOnCloth } from '../model/half-on-cloth.js';
import type { SeamMatch } from '../seam/seam-match.js';
import { mixedHex } from './mixed-colour.js';
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
    stripedShape(match.pattern, match.left, left, place, match.cross) +
    stripedShape(match.pattern, match.right, right, place, match.cross)
  );
}

/**
 * A convex garment shape filled with its stripes. Each band is painted from its lower edge to the far end
 * and the next one over it, so that no hairline of background shows between neighbours. In a check every cross stripe of a band
 * is painted so within it, in the mixture of the two.
 */
export function stripedShape(
  pattern: ClothPattern,
  half: HalfOnCloth,
  shape: readonly Corner[],
  place: (x: number, y: number) => [number, number],
  cross: ClothPattern | null = null,
): string {
  const draw = (part: readonly Corner[], fill: string): string =>
    polygon(
      part.map(([x, y]) => place(x, y)),
      { fill },
    );
  return partsAbove(pattern, shape, ([x, y]) => clothFromGarment(half, x, y)[0])
    .map(({ part, srgb }) =>
      cross === null
        ? draw(part, srgb)
        : partsAbove(cross, part, ([x, y]) => clothFromGarment(half, x, y)[1])
            .map((cell) => draw(cell.part, mixedHex(srgb, cell.srgb)))
            .join(''),
    )
    .join('');
}

/** One part a band, from its lower edge on, in order; `along`: the cloth coordinate that the pattern runs along. */
function partsAbove(
  pattern: ClothPattern,
  shape: readonly Corner[],
  along: (corner: Corner) => number,
): { part: Corner[]; srgb: string }[] {
  const u = (corner: Corner): number => along(corner) - pattern.originUMm;
  const us = shape.map(u);
  const lowest = Math.min(...us);
  const highest = Math.max(...us);
  const n = pattern.bands.length;
  let k = Math.floor(lowest / pattern.repeatMm) * n;
  const startOf = (j: number): number =>
    Math.floor(j / n) * pattern.repeatMm + pattern.bands[wrap(j, n)].startMm;
  while (startOf(k + 1) <= lowest) k++;
  const parts: { part: Corner[]; srgb: string }[] = [];
  for (; startOf(k) < highest; k++) {
    const part = above(shape, (corner) => u(corner) - startOf(k));
    if (part.length > 2) parts.push({ part, srgb: pattern.bands[wrap(k, n)].srgb });
  }
  return parts;
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
